package soakbench.demo.simulation;

import java.time.Instant;
import java.util.Set;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Correction;
import soakbench.model.Tracker;

/**
 * What to simulate.
 *
 * @param mix how rough its life is
 * @param run when, how long, and drawn from what
 * @param lines how it prints
 * @param subject the tracker
 * @param sure what happens whatever the mix draws
 */
public record SimulateOptions(Mix mix, Run run, Lines lines, Subject subject, Set<Trouble> sure) {
  private static final double WEEK_S = 604_800;

  /**
   * One run.
   *
   * @param start its second 0
   * @param durationS its length, s; 1 to 604800
   * @param seed what everything is drawn from
   */
  public record Run(Instant start, double durationS, long seed) {
    /**
     * @throws IllegalArgumentException if the duration is outside what is allowed
     */
    public Run {
      if (!(durationS >= 1 && durationS <= WEEK_S)) {
        throw new IllegalArgumentException(
            "a duration of " + durationS + " s is outside 1 to 604800; give it in seconds");
      }
    }
  }

  /**
   * How it prints.
   *
   * @param form the form of the lines
   * @param stamp which times a line carries beside {@code t_ms}
   * @param rateHz lines a second; 0.1 to 1000
   */
  public record Lines(LineStream.Form form, LineStream.Stamp stamp, double rateHz) {
    /**
     * @throws IllegalArgumentException if the rate is outside what is allowed
     */
    public Lines {
      LineStream.checkRate(rateHz);
    }
  }

  /**
   * The tracker.
   *
   * @param id what it calls itself
   * @param accelerometer whether it prints an accelerometer; null to draw it too
   * @param correction what its firmware takes off its rates
   */
  public record Subject(String id, Boolean accelerometer, Correction correction) {
    /**
     * @throws IllegalArgumentException if the id is none
     */
    public Subject {
      if (!Tracker.isId(id)) {
        throw new IllegalArgumentException("id \"" + id + "\" must be " + Tracker.ID_RULE);
      }
    }
  }

  public SimulateOptions {
    sure = Set.copyOf(sure);
  }

  /** What the mix draws and no more. */
  public SimulateOptions(Mix mix, Run run, Lines lines, Subject subject) {
    this(mix, run, lines, subject, Set.of());
  }

  /** An hour of the usual, ten JSON lines a second, from a fixed start. */
  public static SimulateOptions usual(long seed) {
    return new SimulateOptions(
        Mix.USUAL,
        new Run(Instant.parse("2026-01-01T08:00:00Z"), 3600, seed),
        new Lines(LineStream.Form.JSON_LINES, LineStream.Stamp.TIME, 10),
        new Subject("SIM-" + Long.toUnsignedString(seed), null, Correction.NONE));
  }

  public SimulateOptions withMix(Mix other) {
    return new SimulateOptions(other, run, lines, subject, sure);
  }

  /** The same tracker for so long, s. */
  public SimulateOptions lasting(double durationS) {
    return new SimulateOptions(mix, new Run(run.start, durationS, run.seed), lines, subject, sure);
  }

  public SimulateOptions startingAt(Instant start) {
    return new SimulateOptions(mix, new Run(start, run.durationS, run.seed), lines, subject, sure);
  }

  public SimulateOptions withLines(LineStream.Form form, LineStream.Stamp stamp) {
    return new SimulateOptions(mix, run, new Lines(form, stamp, lines.rateHz), subject, sure);
  }

  /** The same with so many lines a second. */
  public SimulateOptions printing(double rateHz) {
    return new SimulateOptions(mix, run, new Lines(lines.form, lines.stamp, rateHz), subject, sure);
  }

  public SimulateOptions named(String id) {
    Subject other = new Subject(id, subject.accelerometer, subject.correction);
    return new SimulateOptions(mix, run, lines, other, sure);
  }

  /**
   * The same with or without an accelerometer.
   *
   * @param printed null to draw it
   */
  public SimulateOptions withAccelerometer(Boolean printed) {
    Subject other = new Subject(subject.id, printed, subject.correction);
    return new SimulateOptions(mix, run, lines, other, sure);
  }

  public SimulateOptions withCorrection(Correction other) {
    Subject corrected = new Subject(subject.id, subject.accelerometer, other);
    return new SimulateOptions(mix, run, lines, corrected, sure);
  }

  /** The same, and this happens whatever the mix draws. */
  public SimulateOptions with(Set<Trouble> others) {
    return new SimulateOptions(mix, run, lines, subject, others);
  }

  long startUs() {
    return run.start.getEpochSecond() * 1_000_000 + run.start.getNano() / 1_000;
  }
}
