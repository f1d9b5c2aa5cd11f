package soakbench.cli.commands;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Set;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.SimulationOptions;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.demo.simulation.Trouble;
import soakbench.demo.unit.Correction;

/** Writes a simulated tracker's lines to standard output and its truth to a file. */
@Command(
    name = "simulate",
    description = "Writes a simulated tracker's lines to standard output, its truth to a file.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: soakbench simulate --mix nasty --seed 7 --truth truth.json > run.jsonl"
    })
public final class SimulateCommand implements Callable<Integer> {
  @Option(
      names = "--mix",
      defaultValue = "usual",
      description = "${COMPLETION-CANDIDATES} (default ${DEFAULT-VALUE})")
  private Mix mix;

  @Option(
      names = "--trouble",
      split = ",",
      description = "what happens whatever the mix draws: ${COMPLETION-CANDIDATES}")
  private Set<Trouble> troubles = Set.of();

  @Mixin private SimulationOptions soak;

  @Option(names = "--id", description = "what the tracker calls itself (default SIM-<seed>)")
  private String id;

  @Option(
      names = "--accelerometer",
      negatable = true,
      description = "whether it prints one (default: drawn)")
  private Boolean accelerometer;

  @Option(
      names = "--correction",
      defaultValue = "NONE",
      description =
          "what its firmware takes off its rates: ${COMPLETION-CANDIDATES}"
              + " (default ${DEFAULT-VALUE})")
  private Correction.Kind correction;

  @Option(
      names = "--correction-s",
      paramLabel = "SECONDS",
      description =
          "how fast it follows them, s, 1 to 3600; for those that follow (default "
              + Correction.USUAL_S
              + ")")
  private Double correctionS;

  @Option(
      names = "--start",
      defaultValue = "2026-01-01T08:00:00Z",
      description = "second 0 of the run (default ${DEFAULT-VALUE})")
  private Instant start;

  @Option(
      names = "--truth",
      paramLabel = "FILE",
      description = "where to write what is true of the run (JSON)")
  private Path truth;

  @Override
  public Integer call() throws IOException {
    OutputStream lines = new BufferedOutputStream(System.out, 1 << 16);
    SimulateRun.write(options(), lines, truth);
    return 0;
  }

  private SimulateOptions options() {
    String name = id == null ? "SIM-" + Long.toUnsignedString(soak.seed()) : id;
    try {
      return new SimulateOptions(
          mix,
          new SimulateOptions.Run(start, soak.durationS(), soak.seed()),
          soak.lines(),
          new SimulateOptions.Subject(name, accelerometer, Correction.of(correction, correctionS)),
          troubles);
    } catch (IllegalArgumentException e) {
      throw new CommandException(e.getMessage(), e);
    }
  }
}
