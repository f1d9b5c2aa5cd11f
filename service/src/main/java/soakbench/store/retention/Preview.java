package soakbench.store.retention;

/**
 * What goes when samples are kept for so many days.
 *
 * @param days for so long they are kept
 * @param going soaks whose samples would go now
 * @param bytes what these samples take, as far as the database has counted its rows; null else
 * @param held soaks that are as old and still keep them: open, or not all of what is derived of
 *     them is up to date
 */
public record Preview(int days, Soaks going, Long bytes, Soaks held) {

  /**
   * Some soaks.
   *
   * @param soaks how many
   * @param samples how many they were derived from
   * @param oldestUs first sample of the oldest, microseconds since 1970; null where there is none
   * @param newestUs last sample of the newest
   */
  public record Soaks(long soaks, long samples, Long oldestUs, Long newestUs) {
    static final Soaks NONE = new Soaks(0, 0, null, null);
  }
}
