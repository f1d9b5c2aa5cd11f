package soakbench.live;

import java.time.Duration;
import java.util.Collection;
import java.util.List;
import java.util.function.LongUnaryOperator;
import soakbench.readiness.Readiness;

/**
 * The current event time: that of the newest verdict, which the board shows, too, carried on by the
 * service's clock. Where both differ by less than {@link #SAME} it is the service's: a verdict is
 * always some seconds old. They are apart where a demo runs faster than time, or where all clocks
 * on the bench are wrong. Thread-safe.
 */
public final class DataClock implements LongUnaryOperator {
  /** From here on the board shows the data's clock beside the reader's own. */
  public static final Duration SAME = Duration.ofMinutes(1);

  private final EventClock clock;
  private long newestUs = Long.MIN_VALUE;
  private long updatedAtUs;

  public DataClock(EventClock clock) {
    this.clock = clock;
  }

  /** Takes new verdicts on what arrives now. */
  public synchronized void judged(List<Readiness> verdicts) {
    take(Math.max(newestUs, newest(verdicts)));
  }

  /** Takes all verdicts on what arrives now: one that was ahead may be gone. */
  public synchronized void update(Collection<Readiness> all) {
    if (!all.isEmpty()) {
      take(newest(all));
    }
  }

  private static long newest(Collection<Readiness> verdicts) {
    return verdicts.stream().mapToLong(Readiness::asOfUs).max().orElse(Long.MIN_VALUE);
  }

  private void take(long us) {
    if (us != newestUs) {
      newestUs = us;
      updatedAtUs = clock.runningUs();
    }
  }

  /**
   * @param runningUs by the service's clock that never steps
   * @return by that of the samples, microseconds since 1970; the service's date where nothing was
   *     judged yet
   */
  @Override
  public synchronized long applyAsLong(long runningUs) {
    long dateUs = runningUs + clock.nowUs() - clock.runningUs();
    if (newestUs == Long.MIN_VALUE) {
      return dateUs;
    }
    long dataUs = newestUs + Math.max(0, runningUs - updatedAtUs);
    return Math.abs(dataUs - dateUs) < SAME.toNanos() / 1000 ? dateUs : dataUs;
  }
}
