package soakbench.cli.options;

import picocli.CommandLine.Option;
import soakbench.store.server.ChunkSettings;

/** How samples and bins are kept where the given server has TimescaleDB. */
public final class ChunkOptions {
  private static final int MOST_HOURS = 24 * 366;
  private static final int MOST_DAYS = 36_500;

  @Option(
      names = "--chunk-hours",
      paramLabel = "HOURS",
      defaultValue = "24",
      description =
          "with TimescaleDB: time that a new chunk of samples covers, bins seven times as much"
              + " (default ${DEFAULT-VALUE})")
  private int chunkHours;

  @Option(
      names = "--compress-after-days",
      paramLabel = "DAYS",
      defaultValue = "30",
      description =
          "with TimescaleDB: age at which chunks are compressed; longer than any soak"
              + " (default ${DEFAULT-VALUE})")
  private int compressAfterDays;

  /**
   * What was asked for.
   *
   * @throws CommandException if it makes no sense
   */
  public ChunkSettings settings() {
    within("--chunk-hours", chunkHours, MOST_HOURS, "hours");
    within("--compress-after-days", compressAfterDays, MOST_DAYS, "days");
    return new ChunkSettings(chunkHours, compressAfterDays);
  }

  private static void within(String option, int value, int most, String unit) {
    if (value < 1 || value > most) {
      throw new CommandException(option + " " + value + " is outside 1 to " + most + " " + unit);
    }
  }
}
