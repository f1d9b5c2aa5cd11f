package soakbench.store.room;

import java.util.Locale;
import soakbench.model.Estimate;

/**
 * The room of the database.
 *
 * @param databaseBytes what the database takes
 * @param freeBytes what is left for it; null where that is not known
 * @param totalBytes of how much; null where that is not known
 * @param growthBytesPerDay by how much more is taken each day, of everything that shares its room,
 *     as far as that is watched
 * @param daysLeft how long that goes on until nothing is left
 * @param note what is not known of it, and why, in a sentence; null where all is
 */
public record Room(
    long databaseBytes,
    Long freeBytes,
    Long totalBytes,
    Estimate growthBytesPerDay,
    Estimate daysLeft,
    String note) {
  private static final double BYTES_A_GB = 1e9;

  /**
   * How near it is to being gone, percent: 100 where as much as the limits say is left, or for as
   * many days, 500 at a fifth of that; 0 where nothing is known.
   */
  public double nearnessPercent(RoomLimits limits) {
    return Math.max(byBytes(limits), byDays(limits));
  }

  /** How much is left and for how long, in a sentence, where that is known. */
  public String words() {
    String left =
        String.format(
            Locale.ROOT, "The database's room is low: %.1f GB are left", freeBytes / BYTES_A_GB);
    return daysLeft.known()
        ? left
            + String.format(
                Locale.ROOT,
                ", which last %.0f days (%.0f or more) at the rate of now.",
                daysLeft.value(),
                Math.floor(daysLeft.low()))
        : left + "; for how long that lasts is not known yet.";
  }

  private double byBytes(RoomLimits limits) {
    return freeBytes == null ? 0 : 100.0 * limits.lowBytes() / Math.max(1, freeBytes);
  }

  private double byDays(RoomLimits limits) {
    return daysLeft.known() ? 100 * limits.lowDays() / Math.max(1e-3, daysLeft.value()) : 0;
  }

  /** Whether it is the days that are few, rather than the bytes. */
  public boolean soonerByDays(RoomLimits limits) {
    return byDays(limits) > byBytes(limits);
  }
}
