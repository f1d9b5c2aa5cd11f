package soakbench.live;

/**
 * Seconds of one tracker in which samples lie that came after the second was derived.
 *
 * @param fromSecond the first, seconds since 1970
 * @param toSecond the last
 */
public record StaleRange(long fromSecond, long toSecond) {

  public static StaleRange of(long second) {
    return new StaleRange(second, second);
  }

  /** From the first of both to the last of both. */
  public StaleRange and(StaleRange other) {
    return new StaleRange(
        Math.min(fromSecond, other.fromSecond), Math.max(toSecond, other.toSecond));
  }

  public boolean holds(long second) {
    return fromSecond <= second && second <= toSecond;
  }
}
