package soakbench.model;

/**
 * Something that somebody should look at now. A late sign: no safety device.
 *
 * @param id the kind, the tracker or rack where there is one, {@code @} and the time since when:
 *     {@code hot:T-0412@20260301T080006453Z}
 * @param cause what it was raised for, or became worse by
 * @param sinceUs since when it holds, by the clock of the data, microseconds since 1970
 * @param untilUs when its cause was gone; null while it holds
 * @param seen that somebody said that it was seen since it was at its worst; null while nobody has
 */
public record Alarm(String id, AlarmCause cause, long sinceUs, Long untilUs, Seen seen) {

  /**
   * That an alarm was seen.
   *
   * @param atUs when, microseconds since 1970
   * @param by who said so; null where it was not said
   */
  public record Seen(long atUs, String by) {}

  /** What is wrong. */
  public AlarmCause.Kind kind() {
    return cause.kind();
  }

  /** Whom it is about; null where it is about no tracker. */
  public String tracker() {
    return cause.about().tracker();
  }

  /** Whether it still holds. */
  public boolean open() {
    return untilUs == null;
  }

  /** Whether nobody has said yet that it was seen. */
  public boolean unseen() {
    return seen == null;
  }

  /** The same one, and that somebody has seen it. */
  public Alarm seenBy(Seen whom) {
    return new Alarm(id, cause, sinceUs, untilUs, whom);
  }

  /** The same one, whose cause is gone. */
  public Alarm over(long atUs) {
    return new Alarm(id, cause, sinceUs, atUs, seen);
  }

  /** The same one at its worst; that it was seen before no longer counts. */
  public Alarm worse(AlarmCause worst) {
    return new Alarm(id, worst, sinceUs, null, null);
  }
}
