package soakbench.cli.commands;

import java.io.PrintWriter;
import java.util.concurrent.Callable;
import picocli.AutoComplete;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;

/** Prints what lets a shell complete the program's commands and options. */
@Command(
    name = "completion",
    description = "Prints a script that lets bash or zsh complete commands and options.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench completion > soakbench.sh; source soakbench.sh"})
public final class CompletionCommand implements Callable<Integer> {
  @Spec private CommandSpec spec;

  @Override
  public Integer call() {
    PrintWriter out = spec.commandLine().getOut();
    out.print(AutoComplete.bash(spec.root().name(), spec.root().commandLine()));
    out.flush();
    return 0;
  }
}
