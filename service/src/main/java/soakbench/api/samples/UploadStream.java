package soakbench.api.samples;

import java.util.function.Consumer;
import soakbench.api.http.Times;
import soakbench.lines.Reading;
import soakbench.lines.ReadingJoiner;
import soakbench.model.Sample;

/**
 * One tracker's lines within one upload. Temperature and rates that come on lines of their own are
 * joined, which needs them in order; whole lines may come in any order and twice.
 */
final class UploadStream {
  private final String id;
  private final ReadingJoiner joiner;
  private Reading last;
  private long lastUs = Long.MIN_VALUE;

  UploadStream(String id) {
    this.id = id;
    this.joiner = new ReadingJoiner(id, ReadingJoiner.TEMPERATURE_HOLD_S);
  }

  /**
   * Takes a reading.
   *
   * @return why it can't be used, or null
   */
  String take(Reading reading, long timeUs, Consumer<Sample> samples) {
    if (timeUs > lastUs || (timeUs == lastUs && isOtherHalf(reading))) {
      lastUs = timeUs;
      last = reading;
      joiner.take(reading, timeUs, samples);
      return null;
    }
    if (reading.isWhole() || reading.hasTemperature() && reading.hasRates()) {
      samples.accept(whole(reading, timeUs));
      return null;
    }
    return ("The time %s is not later than that of %s's line before it; lines with only temperature"
            + " or only rates must come in order.")
        .formatted(Times.text(timeUs), id);
  }

  void end(Consumer<Sample> samples) {
    joiner.end(samples);
  }

  private boolean isOtherHalf(Reading reading) {
    return !reading.isWhole() && !last.isWhole() && reading.isOtherHalfOf(last);
  }

  private Sample whole(Reading reading, long timeUs) {
    return reading.sample(
        id, timeUs, reading.temperatureC(), reading.isWhole() && reading.temperatureHeld());
  }
}
