package soakbench.store;

/**
 * Which soaks to list, the newest first. What is null does not narrow.
 *
 * @param tracker only this tracker's
 * @param lot only of trackers that the roster puts into this lot
 * @param rack only of trackers that the roster puts on this rack
 * @param fromUs only those that were still going on then or later, microseconds since 1970
 * @param toUs only those that began before, microseconds since 1970
 * @param afterId go on after this soak, the last of the page before
 * @param limit at most this many, 1 or more
 */
public record SoakQuery(
    String tracker, String lot, String rack, Long fromUs, Long toUs, String afterId, int limit) {

  /**
   * @throws IllegalArgumentException if the limit is below 1
   */
  public SoakQuery {
    if (limit < 1) {
      throw new IllegalArgumentException("limit is " + limit + "; it must be 1 or more");
    }
  }

  /** The newest soaks of all trackers. */
  public static SoakQuery newest(int limit) {
    return new SoakQuery(null, null, null, null, null, null, limit);
  }
}
