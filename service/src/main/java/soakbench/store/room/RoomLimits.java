package soakbench.store.room;

/**
 * When room is low.
 *
 * @param lowBytes where less is left
 * @param lowDays where it lasts for less at the present rate, days
 * @param givenBytes what a given server has for this database, as people say, who alone can know;
 *     null where nobody said. Our own server's is that of its disk
 */
public record RoomLimits(long lowBytes, double lowDays, Long givenBytes) {
  public static final int LOW_GB = 2;
  public static final int LOW_DAYS = 14;
  public static final RoomLimits DEFAULT = new RoomLimits(LOW_GB * 1_000_000_000L, LOW_DAYS, null);
}
