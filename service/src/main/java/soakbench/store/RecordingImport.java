package soakbench.store;

/**
 * Recordings that somebody brought in at once.
 *
 * @param id from 1
 * @param beganUs when, microseconds since 1970
 * @param sender what the sender says that it is
 * @param address where it sent from
 * @param files how many files it has, how many of them are through, and how many failed
 * @param samples what became of what was in them
 * @param undone since when it is being, or is, taken out, and why; null where it is in
 */
public record RecordingImport(
    long id,
    long beganUs,
    String sender,
    String address,
    Files files,
    Counts samples,
    Undone undone) {

  /** How many files: all, those that are through, and those that failed. */
  public record Files(int all, int ended, int failed) {}

  /**
   * What became of lines.
   *
   * @param accepted samples that were new
   * @param duplicate samples that were there already
   * @param conflicting samples that were there with other values, which stayed
   * @param rejected lines that gave no sample
   */
  public record Counts(long accepted, long duplicate, long conflicting, long rejected) {}

  /**
   * That it is being, or is, taken out.
   *
   * @param sinceUs since when, microseconds since 1970
   * @param taken samples that were taken out so far
   * @param all whether that is all of them
   */
  public record Undone(long sinceUs, String reason, long taken, boolean all) {}
}
