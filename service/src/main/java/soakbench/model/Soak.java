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
 */
public record Soak(String id, String tracker, long startUs, long endUs, long samples, End ended) {

  /** What ends a soak. */
  public enum End {
    /** Nothing heard for over ten minutes. */
    SILENCE,
    /** Back from a reboot more than three minutes later. */
    LATE_REBOOT,
    /** Back from a reboot more than 1 degC cooler. */
    COOLER_REBOOT,
    /** Somebody said that it was taken off. */
    TAKEN_OFF
  }

  public boolean open() {
    return ended == null;
  }
}
