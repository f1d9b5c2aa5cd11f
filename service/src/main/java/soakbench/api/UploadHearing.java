package soakbench.api;

import soakbench.lines.Reading;
import soakbench.live.Arrivals;
import soakbench.live.Arrivals.Arrival;
import soakbench.live.Arrivals.Door;

/** Tells of each line of an upload as it arrives, whether it can be stored or not. */
final class UploadHearing {
  private final Arrivals arrivals;

  UploadHearing(Arrivals arrivals) {
    this.arrivals = arrivals;
  }

  /** A line whose time is this, microseconds since 1970. */
  void at(Reading reading, long stampUs) {
    // An earlier temperature that was carried forward says nothing of now.
    boolean held = Boolean.TRUE.equals(reading.temperatureHeld());
    double temperatureC = held ? Double.NaN : reading.temperatureC();
    arrivals.heard(new Arrival(reading.id(), stampUs, temperatureC, Door.POSTED));
  }

  /** A line that says no time that can be used; what a recording noted beside it will do. */
  void withoutTime(Reading reading) {
    at(reading, reading.arrivalUs());
  }
}
