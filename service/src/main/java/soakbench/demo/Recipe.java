package soakbench.demo;

import java.util.List;

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
    long seed) {

  public Recipe {
    scenarios = List.copyOf(scenarios);
  }
}
