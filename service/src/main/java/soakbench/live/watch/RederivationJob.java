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
 * @param cuts how many soaks the live watch had cut by then
 * @param closedSecond the last second that it had closed
 * @param beganUs when the work was begun, by the live clock
 */
record RederivationJob(
    TrackerWatch watch,
    StaleRange late,
    SoakContext apart,
    int cuts,
    long closedSecond,
    long beganUs) {
  /** Later than any sample, and small enough to count on in microseconds. */
  static final long AHEAD = 253_402_300_800L;

  RederivationJob(TrackerWatch watch, StaleRange late, SoakContext apart, long beganUs) {
    this(watch, late, apart, watch.cuts(), closedSecond(watch, late), beganUs);
  }

  /** Of soaks ahead of a clock that was set back all seconds are closed. */
  private static long closedSecond(TrackerWatch watch, StaleRange late) {
    return watch.isAhead(late) ? AHEAD : watch.closedSecond();
  }

  /** Whether it is about soaks ahead of the live watch. */
  boolean ahead() {
    return closedSecond == AHEAD;
  }

  String tracker() {
    return watch.tracker();
  }

  /** Does the work; holds no lock. */
  RederivedSoaks derive(SoakStore.Reader reader, Consumer<List<Bin>> keep) {
    return new Rederivation(reader, apart, tracker(), late, keep).until(closedSecond);
  }
}
