package soakbench.api.samples;

import soakbench.lines.Reading;
import soakbench.live.arrival.Arrivals;
import soakbench.live.arrival.Arrivals.Arrival;
import soakbench.live.arrival.Arrivals.Door;

/** Tells of each line of an upload as it arrives, whether it can be stored or not. */
final class UploadHearing {
  private final Arrivals arrivals;

  UploadHearing(Arrivals arrivals) {
    this.arrivals = arrivals;
  }

  /** A line whose time is this, microseconds since 1970. */
  void at(Reading reading, long stampUs) {
    arrivals.heard(Arrival.of(reading.id(), reading, stampUs, Door.POSTED));
  }

  /** A line that says no time that can be used; what a recording noted beside it will do. */
  void withoutTime(Reading reading) {
    at(reading, reading.arrivalUs());
  }
}
