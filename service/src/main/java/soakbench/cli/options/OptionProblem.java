package soakbench.cli.options;

import java.util.List;
import picocli.CommandLine;
import picocli.CommandLine.ParameterException;
import picocli.CommandLine.UnmatchedArgumentException;
import soakbench.model.NearestName;

/** Words an error of a command line for people. */
public final class OptionProblem {
  private OptionProblem() {}

  public static String sentence(ParameterException e) {
    if (e instanceof UnmatchedArgumentException unmatched) {
      return notKnown(unmatched.getCommandLine(), unmatched.getUnmatched().get(0));
    }
    return e.getMessage()
        .lines()
        .findFirst()
        .orElse("")
        .replace(" is not an int", " is not a whole number")
        .replace(" is not a double", " is not a number")
        .replaceFirst(
            "cannot convert ('.*') to class java.time.Instant.*",
            "$1 is not a time like 2026-01-01T08:00:00Z");
  }

  private static String notKnown(CommandLine command, String word) {
    if (word.startsWith("-")) {
      List<String> known = List.copyOf(command.getCommandSpec().optionsMap().keySet());
      return "there is no option \"" + word + "\"" + NearestName.hint(word, known);
    }
    List<String> commands = List.copyOf(command.getSubcommands().keySet());
    return commands.isEmpty()
        ? "\"" + word + "\" is one word too many"
        : "there is no command \"" + word + "\"" + NearestName.hint(word, commands);
  }
}
