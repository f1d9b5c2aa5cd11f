package soakbench.cli.options;

import picocli.CommandLine.Mixin;
import picocli.CommandLine.Option;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.model.Tracker;

/** What is said about the lines of recordings. */
public final class LineOptions {
  @Option(
      names = "--pattern",
      paramLabel = "PATTERN",
      description = "reads lines of another form: a regular expression whose groups are columns")
  private String pattern;

  @Option(names = "--id", paramLabel = "ID", description = "whose the lines are that carry no id")
  private String id;

  @Mixin private PatternOptions patternOptions;

  /**
   * The settings.
   *
   * @throws CommandException if one of them can't be used
   */
  public LineSettings lines() {
    if (id != null && !Tracker.isId(id)) {
      throw new CommandException("--id " + id + " is no id: an id is " + Tracker.ID_RULE);
    }
    return new LineSettings(id, null, patternOptions.spec(pattern));
  }
}
