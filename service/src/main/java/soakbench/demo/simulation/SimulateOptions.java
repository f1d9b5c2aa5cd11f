package soakbench.demo.simulation;

import java.time.Instant;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Correction;
import soakbench.model.Tracker;

/**
 * What to simulate.
 *
 * @param mix how rough its life is
 * @param seed what everything is drawn from
 * @param durationS length of the run, s; 1 to 604800
 * @param rateHz lines a second; 0.1 to 1000
 * @param form the form of the lines
 * @param stamp which times a line carries beside {@code t_ms}
 * @param id what the tracker calls itself
 * @param accelerometer whether it prints an accelerometer; null to draw it too
 * @param start second 0 of the run
 * @param correction what its firmware takes off its rates
 */
public record SimulateOptions(
    Mix mix,
    long seed,
    double durationS,
    double rateHz,
    LineStream.Form form,
    LineStream.Stamp stamp,
    String id,
    Boolean accelerometer,
    Instant start,
    Correction correction) {

  private static final double WEEK_S = 604_800;

  /**
   * @throws IllegalArgumentException if a figure is outside what is allowed or the id is none
   */
  public SimulateOptions {
    if (!(durationS >= 1 && durationS <= WEEK_S)) {
      throw new IllegalArgumentException(
          "a duration of " + durationS + " s is outside 1 to 604800; give it in seconds");
    }
    if (!(rateHz >= 0.1 && rateHz <= 1000)) {
      throw new IllegalArgumentException(
          "a rate of " + rateHz + " lines a second is outside 0.1 to 1000");
    }
    if (!Tracker.isId(id)) {
      throw new IllegalArgumentException("id \"" + id + "\" must be " + Tracker.ID_RULE);
    }
  }

  /** A tracker that prints its rates as they are measured. */
  public SimulateOptions(
      Mix mix,
      long seed,
      double durationS,
      double rateHz,
      LineStream.Form form,
      LineStream.Stamp stamp,
      String id,
      Boolean accelerometer,
      Instant start) {
    this(mix, seed, durationS, rateHz, form, stamp, id, accelerometer, start, Correction.NONE);
  }

  /** An hour of the usual, ten JSON lines a second, from a fixed start. */
  public static SimulateOptions usual(long seed) {
    return new SimulateOptions(
        Mix.USUAL,
        seed,
        3600,
        10,
        LineStream.Form.JSON_LINES,
        LineStream.Stamp.TIME,
        "SIM-" + Long.toUnsignedString(seed),
        null,
        Instant.parse("2026-01-01T08:00:00Z"));
  }

  public SimulateOptions withMix(Mix other) {
    return new SimulateOptions(
        other, seed, durationS, rateHz, form, stamp, id, accelerometer, start, correction);
  }

  public SimulateOptions withLines(LineStream.Form otherForm, LineStream.Stamp otherStamp) {
    return new SimulateOptions(
        mix, seed, durationS, rateHz, otherForm, otherStamp, id, accelerometer, start, correction);
  }

  public SimulateOptions withCorrection(Correction other) {
    return new SimulateOptions(
        mix, seed, durationS, rateHz, form, stamp, id, accelerometer, start, other);
  }

  long startUs() {
    return start.getEpochSecond() * 1_000_000 + start.getNano() / 1_000;
  }
}
