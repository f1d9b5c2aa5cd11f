package soakbench.cli.options;

import java.time.Duration;
import picocli.CommandLine.Option;
import soakbench.api.samples.UploadLimits;

/** What uploads of samples may do. */
public final class UploadOptions {
  private static final int LONGEST_AHEAD_S = 86_400;

  @Option(
      names = "--ahead",
      paramLabel = "SECONDS",
      defaultValue = "60",
      description =
          "lines whose time is further ahead of this computer's clock are refused (default"
              + " ${DEFAULT-VALUE})")
  private int aheadS;

  @Option(
      names = "--new-per-request",
      paramLabel = "N",
      defaultValue = "200",
      description = "most trackers never heard before in one upload (default ${DEFAULT-VALUE})")
  private int perRequest;

  @Option(
      names = "--new-per-sender",
      paramLabel = "N",
      defaultValue = "1000",
      description = "… from one address in a day (default ${DEFAULT-VALUE})")
  private int perSender;

  @Option(
      names = "--new-per-day",
      paramLabel = "N",
      defaultValue = "2000",
      description = "… from all together in a day (default ${DEFAULT-VALUE})")
  private int perDay;

  /**
   * The bounds that these options ask for.
   *
   * @throws CommandException if one of them is out of its range
   */
  public UploadLimits limits() {
    if (aheadS < 1 || aheadS > LONGEST_AHEAD_S) {
      throw new CommandException(
          "--ahead " + aheadS + " is outside 1 to " + LONGEST_AHEAD_S + " seconds");
    }
    requireCount("--new-per-request", perRequest);
    requireCount("--new-per-sender", perSender);
    requireCount("--new-per-day", perDay);
    return new UploadLimits(Duration.ofSeconds(aheadS), perRequest, perSender, perDay);
  }

  private static void requireCount(String option, int count) {
    if (count < 0) {
      throw new CommandException(option + " " + count + " is below 0");
    }
  }
}
