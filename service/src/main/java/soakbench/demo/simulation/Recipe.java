package soakbench.demo.simulation;

import java.util.List;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;

/**
 * All that makes one run of one tracker. The same recipe gives the same bytes.
 *
 * @param unit the tracker
 * @param correction what its firmware takes off its rates
 * @param heating how it warms
 * @param events what happens to it
 * @param stream how it prints
 * @param run when, how long, and with which noise
 * @param origin what it was drawn from, for the truth file
 */
public record Recipe(
    SimulatedUnit unit,
    Correction correction,
    Heating heating,
    Events events,
    LineStream stream,
    Run run,
    Origin origin) {

  /**
   * One run.
   *
   * @param startUs its second 0, microseconds since 1970
   * @param durationS how long it is, s
   * @param seed what the noise is drawn from
   */
  public record Run(long startUs, double durationS, long seed) {}

  /**
   * Where a recipe comes from.
   *
   * @param mix the mix it was drawn from, in lower case
   * @param scenarios words for what was put in
   */
  public record Origin(String mix, List<String> scenarios) {
    public Origin {
      scenarios = List.copyOf(scenarios);
    }
  }

  /** A run of a tracker that prints its rates as they are measured. */
  public Recipe(
      SimulatedUnit unit,
      Heating heating,
      Events events,
      LineStream stream,
      Run run,
      Origin origin) {
    this(unit, Correction.NONE, heating, events, stream, run, origin);
  }

  public long startUs() {
    return run.startUs();
  }

  public double durationS() {
    return run.durationS();
  }

  /** The same run of a tracker whose firmware corrects otherwise. */
  public Recipe with(Correction other) {
    return new Recipe(unit, other, heating, events, stream, run, origin);
  }

  public Recipe with(Heating other) {
    return new Recipe(unit, correction, other, events, stream, run, origin);
  }

  public Recipe with(Events other) {
    return new Recipe(unit, correction, heating, other, stream, run, origin);
  }

  public Recipe with(LineStream other) {
    return new Recipe(unit, correction, heating, events, other, run, origin);
  }

  /** The same so many seconds later. */
  public Recipe later(long byS) {
    Run other = new Run(run.startUs + byS * 1_000_000L, run.durationS, run.seed);
    return new Recipe(unit, correction, heating, events, stream, other, origin);
  }
}
