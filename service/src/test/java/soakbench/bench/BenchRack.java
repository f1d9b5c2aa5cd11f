package soakbench.bench;

import java.time.Instant;
import picocli.CommandLine.Option;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;

/** The rack that a measurement runs with. */
final class BenchRack {
  @Option(
      names = "--trackers",
      defaultValue = "12",
      description = "how many (default ${DEFAULT-VALUE})")
  private int trackers;

  @Option(
      names = "--rate-hz",
      defaultValue = "50",
      description = "lines a second of each (default ${DEFAULT-VALUE})")
  private double rateHz;

  /** How many trackers lie on it. */
  int trackers() {
    return trackers;
  }

  /** Lines a second of each. */
  double rateHz() {
    return rateHz;
  }

  /**
   * One of its trackers.
   *
   * @param number from 1 on; what it is drawn from, and the end of its id
   */
  SimulateOptions tracker(String prefix, int number, double durationS, Instant start) {
    return SimulateOptions.usual(number)
        .withMix(Mix.CLEAN)
        .lasting(durationS)
        .printing(rateHz)
        .named(prefix + number)
        .withAccelerometer(true)
        .startingAt(start);
  }
}
