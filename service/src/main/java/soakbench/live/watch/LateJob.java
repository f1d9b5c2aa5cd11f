package soakbench.live.watch;

import java.util.List;
import java.util.function.Consumer;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;
import soakbench.model.Bin;

/**
 * One tracker to be derived again beside the live watches.
 *
 * @param watch the live one
 * @param late the seconds in which samples came late
 * @param apart with a copy of what is known of other soaks
 * @param turns how many soaks the live watch had begun and ended
 * @param closedSecond the last second that it had closed
 * @param beganUs when the work was begun, by the live clock
 */
record LateJob(
    TrackerWatch watch,
    StaleRange late,
    SoakContext apart,
    int turns,
    long closedSecond,
    long beganUs) {
  /** Later than any sample, and small enough to count on in microseconds. */
  private static final long AHEAD = 253_402_300_800L;

  LateJob(TrackerWatch watch, StaleRange late, SoakContext apart, long beganUs) {
    this(watch, late, apart, watch.turns(), closedSecond(watch, late), beganUs);
  }

  /** Of soaks ahead of a clock that was set back all seconds are closed. */
  private static long closedSecond(TrackerWatch watch, StaleRange late) {
    return watch.isAhead(late) ? AHEAD : watch.closedSecond();
  }

  /** Whether it is about soaks that the live watch is still to come to. */
  boolean ahead() {
    return closedSecond == AHEAD;
  }

  String tracker() {
    return watch.tracker();
  }

  /** Does the work; holds no lock. */
  Rederived derive(SoakStore.Look look, Consumer<List<Bin>> keep) {
    return new Rederivation(look, apart, tracker(), late, keep).until(closedSecond);
  }
}
