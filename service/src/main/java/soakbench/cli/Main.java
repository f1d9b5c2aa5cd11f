package soakbench.cli;

import picocli.CommandLine;
import picocli.CommandLine.Command;
import soakbench.cli.commands.AgentCommand;
import soakbench.cli.commands.BackupCommand;
import soakbench.cli.commands.CompletionCommand;
import soakbench.cli.commands.DemoCommand;
import soakbench.cli.commands.ImportCommand;
import soakbench.cli.commands.LotsCommand;
import soakbench.cli.commands.PairCommand;
import soakbench.cli.commands.PortsCommand;
import soakbench.cli.commands.ReplayCommand;
import soakbench.cli.commands.RestoreCommand;
import soakbench.cli.commands.RetentionCommand;
import soakbench.cli.commands.ServeCommand;
import soakbench.cli.commands.SimulateCommand;
import soakbench.cli.commands.SimulateLotsCommand;
import soakbench.cli.push.PushCommand;

/** The program: one command for each thing that a person wants done. */
@Command(
    name = "soakbench",
    description =
        "Measures the warm-up of motion trackers and tells when each is ready to calibrate.",
    subcommands = {
      DemoCommand.class,
      ServeCommand.class,
      PairCommand.class,
      AgentCommand.class,
      PortsCommand.class,
      ReplayCommand.class,
      ImportCommand.class,
      LotsCommand.class,
      SimulateCommand.class,
      SimulateLotsCommand.class,
      RetentionCommand.class,
      PushCommand.class,
      BackupCommand.class,
      RestoreCommand.class,
      CompletionCommand.class
    },
    mixinStandardHelpOptions = true,
    versionProvider = Version.class,
    synopsisSubcommandLabel = "COMMAND",
    footer = {"", "Example: soakbench demo"})
public final class Main implements Runnable {

  @CommandLine.Spec private CommandLine.Model.CommandSpec spec;

  @Override
  public void run() {
    throw new CommandLine.ParameterException(
        spec.commandLine(), "no command given; try \"soakbench demo\"");
  }

  /** The parsed command line, its errors reported in one sentence. */
  public static CommandLine commandLine() {
    return withErrorsInWords(new CommandLine(new Main()));
  }

  /** Sets how a command line of ours reports errors, and its exit codes. */
  public static CommandLine withErrorsInWords(CommandLine commandLine) {
    return commandLine
        .setCaseInsensitiveEnumValuesAllowed(true)
        .setParameterExceptionHandler(ErrorReport::badOption)
        .setExecutionExceptionHandler(ErrorReport::failed);
  }

  public static void main(String[] args) {
    System.exit(commandLine().execute(args));
  }
}
