package soakbench.model;

/**
 * One continuous warm-up of one tracker.
 *
 * @param id the tracker's id, {@code @}, and the time of its first sample: {@code
 *     T-0412@20260301T080006453Z}
 * @param tracker the tracker's id
 * @param startUs its first sample, microseconds since 1970
 * @param endUs its newest sample (of an ended soak: its last), microseconds since 1970
 * @param samples how many samples it holds
 * @param ended why it ended, or null while it goes on
 * @param samplesKept false where its samples, or some of them, are no longer stored: what was
 *     derived from them stays as it is for ever
 */
public record Soak(
    String id,
    String tracker,
    long startUs,
    long endUs,
    long samples,
    End ended,
    boolean samplesKept) {

  /** One whose samples are all stored. */
  public Soak(String id, String tracker, long startUs, long endUs, long samples, End ended) {
    this(id, tracker, startUs, endUs, samples, ended, true);
  }

  /** What ends a soak. */
  public enum End {
    /** Nothing heard for over ten minutes. */
    SILENCE,
    /** Back from a reboot more than three minutes later. */
    LATE_REBOOT,
    /** Back from a reboot more than 1 degC cooler. */
    COOLER_REBOOT,
    /** Somebody said that it was taken off. */
    TAKEN_OFF,
    /** The tracker's clock was set back, and what came then begins another soak. */
    CLOCK_SET
  }

  /** Whose soak has this id; an id begins with its tracker's. */
  public static String trackerOf(String id) {
    int at = id.indexOf('@');
    return at < 0 ? id : id.substring(0, at);
  }

  /** Whether it was ended by what its samples don't show. */
  public boolean givenEnd() {
    return ended == End.TAKEN_OFF || ended == End.CLOCK_SET;
  }

  /** The same, said to have lost samples. */
  public Soak withoutSamples() {
    return new Soak(id, tracker, startUs, endUs, samples, ended, false);
  }

  /** The same, ended. */
  public Soak endedBy(End why) {
    return new Soak(id, tracker, startUs, endUs, samples, why, samplesKept);
  }

  /** The same with another count of samples. */
  public Soak withSamples(long count) {
    return new Soak(id, tracker, startUs, endUs, count, ended, samplesKept);
  }

  /** The second of its first sample, since 1970. */
  public long startSecond() {
    return Math.floorDiv(startUs, 1_000_000L);
  }

  /** The second of its newest sample, since 1970. */
  public long endSecond() {
    return Math.floorDiv(endUs, 1_000_000L);
  }

  public boolean open() {
    return ended == null;
  }
}
