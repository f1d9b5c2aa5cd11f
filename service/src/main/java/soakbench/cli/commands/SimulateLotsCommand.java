package soakbench.cli.commands;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.SimulationOptions;
import soakbench.cli.recordings.Progress;
import soakbench.demo.simulation.LotOptions;
import soakbench.demo.simulation.LotWriter;

/** Writes recordings of whole simulated lots, with their truth. */
@Command(
    name = "simulate-lots",
    description =
        "Writes recordings of whole simulated lots into a folder: units about one law, several"
            + " soaks, days and benches, a roster, and what is true of each.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench simulate-lots --lot Barley-2=1 --lot Thistle-5=2 recordings"})
public final class SimulateLotsCommand implements Callable<Integer> {
  @Parameters(paramLabel = "FOLDER", description = "a new folder, or an empty one")
  private Path folder;

  @Option(
      names = "--lot",
      paramLabel = "LOT=SPREAD",
      required = true,
      description =
          "a lot, and how far its units' temperature coefficients scatter about the law: 1 is usual"
              + " (standard deviation "
              + LotWriter.SPREAD_DPS_PER_C
              + " deg/s per degC)")
  private Map<String, Double> lots = new java.util.LinkedHashMap<>();

  @Option(
      names = "--units",
      defaultValue = "8",
      description = "of each lot (default ${DEFAULT-VALUE})")
  private int units;

  @Option(
      names = "--soaks",
      defaultValue = "3",
      description = "of each unit (default ${DEFAULT-VALUE})")
  private int soaks;

  @Option(
      names = "--days",
      defaultValue = "3",
      description = "that the soaks are spread over (default ${DEFAULT-VALUE})")
  private int days;

  @Option(
      names = "--benches",
      defaultValue = "2",
      description = "that the units of each lot are spread over (default ${DEFAULT-VALUE})")
  private int benches;

  @Mixin private SimulationOptions soak;

  @Option(
      names = "--start",
      defaultValue = "2026-01-05T08:00:00Z",
      description = "the first soak (default ${DEFAULT-VALUE})")
  private Instant start;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    LotOptions options = options();
    int recordings;
    try (Progress progress = Progress.of(lots.size() * units * soaks)) {
      recordings = LotWriter.write(options, folder, progress::ended);
    }
    PrintWriter out = spec.commandLine().getOut();
    out.printf(
        "%d recordings of %d lots in %s, with their truth and a roster%n",
        recordings, lots.size(), folder);
    out.flush();
    return 0;
  }

  private LotOptions options() {
    try {
      return new LotOptions(
          lots,
          new LotOptions.Size(units, soaks, days, benches, start, soak.durationS()),
          soak.lines(),
          soak.seed());
    } catch (IllegalArgumentException e) {
      throw new CommandException(e.getMessage(), e);
    }
  }
}
