package soakbench.cli.options;

import picocli.CommandLine.Option;
import soakbench.demo.lines.LineStream;
import soakbench.demo.simulation.SimulateOptions;

/** How long a simulated soak lasts and what its lines look like. */
public final class SimulationOptions {
  @Option(
      names = "--seed",
      defaultValue = "1",
      description = "what everything is drawn from (default ${DEFAULT-VALUE})")
  private long seed;

  @Option(
      names = "--duration-s",
      defaultValue = "3600",
      description = "length of a soak, s (default ${DEFAULT-VALUE})")
  private double durationS;

  @Option(
      names = "--rate-hz",
      defaultValue = "10",
      description = "lines a second (default ${DEFAULT-VALUE})")
  private double rateHz;

  @Option(
      names = "--form",
      defaultValue = "JSON_LINES",
      description = "${COMPLETION-CANDIDATES} (default ${DEFAULT-VALUE})")
  private LineStream.Form form;

  @Option(
      names = "--stamp",
      defaultValue = "TIME",
      description =
          "which times a line carries: ${COMPLETION-CANDIDATES} (default ${DEFAULT-VALUE})")
  private LineStream.Stamp stamp;

  public long seed() {
    return seed;
  }

  public double durationS() {
    return durationS;
  }

  /**
   * Form, stamps and rate.
   *
   * @throws IllegalArgumentException if there is no such rate
   */
  public SimulateOptions.Lines lines() {
    return new SimulateOptions.Lines(form, stamp, rateHz);
  }
}
