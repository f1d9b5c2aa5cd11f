package soakbench.cli.options;

import picocli.CommandLine.Option;
import soakbench.store.Database;
import soakbench.store.retention.SampleRetention;
import soakbench.store.room.RoomLimits;

/** How long samples are kept, and when the database's room is low. */
public final class KeepingOptions {
  private static final long BYTES_A_GB = 1_000_000_000L;
  private static final int MOST_GB = 1_000_000;
  private static final int MOST_LOW_DAYS = 3_650;

  @Option(
      names = "--keep-samples-days",
      paramLabel = "DAYS",
      description =
          "removes samples older than so many days; what was derived from them stays"
              + " (default: kept for good)")
  private Integer keepDays;

  @Option(
      names = "--low-room-gb",
      paramLabel = "GB",
      description =
          "raises an alarm where the database has less room left (default ${DEFAULT-VALUE})")
  private int lowGb = RoomLimits.LOW_GB;

  @Option(
      names = "--low-room-days",
      paramLabel = "DAYS",
      description = "or where that lasts for less (default ${DEFAULT-VALUE})")
  private int lowDays = RoomLimits.LOW_DAYS;

  @Option(
      names = "--db-room-gb",
      paramLabel = "GB",
      description = "what a given server has for this database, which nothing else can tell")
  private Integer roomGb;

  /**
   * Looks at what was given.
   *
   * @param givenServer whether the database is on a given server
   * @throws CommandException if one of them is out of range, or does not go with that, in words
   */
  public void check(boolean givenServer) {
    if (keepDays != null) {
      check(
          "--keep-samples-days",
          keepDays,
          SampleRetention.LEAST_DAYS,
          SampleRetention.MOST_DAYS,
          "days: an agent that was cut off for some days brings its samples later");
    }
    check("--low-room-gb", lowGb, 0, MOST_GB, "GB");
    check("--low-room-days", lowDays, 0, MOST_LOW_DAYS, "days");
    if (roomGb != null) {
      check("--db-room-gb", roomGb, 1, MOST_GB, "GB");
      if (!givenServer) {
        throw new CommandException(
            "--db-room-gb goes with --db; of its own server Soakbench asks the disk");
      }
    }
  }

  /** Tells a database so. */
  public void applyTo(Database database) {
    if (keepDays != null) {
      database.retention().keepDays(keepDays);
    }
    database
        .room()
        .limits(
            new RoomLimits(
                lowGb * BYTES_A_GB, lowDays, roomGb == null ? null : roomGb * BYTES_A_GB));
  }

  private static void check(String option, int given, int least, int most, String unit) {
    if (given < least || given > most) {
      throw new CommandException(
          "%s %d is outside %d to %d %s".formatted(option, given, least, most, unit));
    }
  }
}
