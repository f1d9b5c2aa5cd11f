package soakbench.cli.options;

import java.util.Map;
import picocli.CommandLine.Option;
import soakbench.lines.PatternSpec;

/** Scale and offset of a pattern's groups, and the pattern made of all three. */
public final class PatternOptions {
  @Option(
      names = "--scale",
      paramLabel = "COLUMN=NUMBER",
      description = "what a group's number is multiplied by, such as temp_c=0.0078125")
  private Map<String, Double> scale = Map.of();

  @Option(
      names = "--offset",
      paramLabel = "COLUMN=NUMBER",
      description = "what is added then, such as temp_c=23")
  private Map<String, Double> offset = Map.of();

  /**
   * The line form.
   *
   * @param pattern a regular expression with named groups, or null
   * @return null without a pattern
   * @throws CommandException if it can't be used, with everything that is wrong with it
   */
  public PatternSpec spec(String pattern) {
    if (pattern == null) {
      if (!scale.isEmpty() || !offset.isEmpty()) {
        throw new CommandException("--scale and --offset need a pattern");
      }
      return null;
    }
    try {
      return new PatternSpec(pattern, scale, offset);
    } catch (IllegalArgumentException e) {
      throw new CommandException(e.getMessage(), e);
    }
  }
}
