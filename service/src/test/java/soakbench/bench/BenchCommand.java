package soakbench.bench;

import picocli.CommandLine;
import picocli.CommandLine.Command;
import soakbench.api.sheet.BenchWorkbookCommand;
import soakbench.bench.pictures.BenchPicturesCommand;
import soakbench.cli.Main;
import soakbench.store.chunks.BenchGrowthCommand;
import soakbench.store.chunks.BenchHistoryCommand;

/** Measurements that documents quote. */
@Command(
    name = "bench",
    description = "Measures the program itself, for the figures in the documentation.",
    mixinStandardHelpOptions = true,
    subcommands = {
      BenchLoadCommand.class,
      BenchCatchUpCommand.class,
      BenchStoreCommand.class,
      BenchHistoryCommand.class,
      BenchGrowthCommand.class,
      BenchEventsCommand.class,
      BenchLinesCommand.class,
      BenchVerdictCommand.class,
      BenchPicturesCommand.class,
      BenchWorkbookCommand.class,
      BenchPlantCommand.class
    },
    synopsisSubcommandLabel = "WHAT",
    footer = {"", "Example: bench load --trackers 12 --rate-hz 50 --seconds 120"})
public final class BenchCommand implements Runnable {
  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  @Override
  public void run() {
    throw new CommandLine.ParameterException(
        spec.commandLine(),
        "say what to measure: load, catch-up, store, history, growth, events, lines, verdict,"
            + " pictures, workbook or plant");
  }

  /** The parsed command line, its errors told in one sentence. */
  static CommandLine commandLine() {
    return Main.withErrorsInWords(new CommandLine(new BenchCommand()));
  }

  public static void main(String[] args) {
    System.exit(commandLine().execute(args));
  }
}
