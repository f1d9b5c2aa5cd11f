package soakbench.live;

/**
 * The clock that live work goes by. Used only to detect silence and to close the last bins; never
 * to judge. How long something has lasted is counted by {@link #runningUs}, so a change of the
 * computer's date can't make a rack fall silent.
 */
@FunctionalInterface
public interface EventClock {
  /** The date, microseconds since 1970; it steps where the computer's date was set. */
  long nowUs();

  /** A clock that never steps, microseconds; the date too, as long as that was not set. */
  default long runningUs() {
    return nowUs();
  }
}
