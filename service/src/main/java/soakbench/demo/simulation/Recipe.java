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
 * @param heating how it warms
 * @param events what happens to it
 * @param stream how it prints
 * @param mix the mix it was drawn from, in lower case; for the truth file
 * @param scenarios words for what was put in, for the truth file
 * @param startUs second 0 of the run, microseconds since 1970
 * @param durationS how long the run is, s
 * @param seed what the noise is drawn from
 * @param correction what its firmware takes off its rates
 */
public record Recipe(
    SimulatedUnit unit,
    Heating heating,
    Events events,
    LineStream stream,
    String mix,
    List<String> scenarios,
    long startUs,
    double durationS,
    long seed,
    Correction correction) {

  public Recipe {
    scenarios = List.copyOf(scenarios);
  }

  /** A run of a tracker that prints its rates as they are measured. */
  public Recipe(
      SimulatedUnit unit,
      Heating heating,
      Events events,
      LineStream stream,
      String mix,
      List<String> scenarios,
      long startUs,
      double durationS,
      long seed) {
    this(unit, heating, events, stream, mix, scenarios, startUs, durationS, seed, Correction.NONE);
  }

  /** The same run of a tracker whose firmware corrects otherwise. */
  public Recipe with(Correction other) {
    return new Recipe(
        unit, heating, events, stream, mix, scenarios, startUs, durationS, seed, other);
  }
}
