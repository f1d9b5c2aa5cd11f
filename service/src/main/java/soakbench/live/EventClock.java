package soakbench.live;

/**
 * Tells which sample time it would be by now. Used only to notice silence and to close the last
 * bins; never to judge. Implementations run on a monotonic clock, so a change of the computer's
 * date can't make a rack fall silent.
 */
@FunctionalInterface
public interface EventClock {
  /** Microseconds since 1970; falls only where the computer's date was set back. */
  long nowUs();
}
