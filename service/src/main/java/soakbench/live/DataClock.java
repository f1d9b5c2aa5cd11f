package soakbench.live;

import java.time.Duration;
import java.util.Collection;
import java.util.List;
import java.util.function.LongUnaryOperator;
import soakbench.readiness.Readiness;

/**
 * What time it is in the samples: that of the newest verdict, which the board shows, too, carried
 * on by the service's clock. Where both differ by less than {@link #SAME} it is the service's: a
 * verdict is always some seconds old. They are apart where a demo runs faster than time, or where
 * all clocks on the bench are wrong. For any thread.
 */
public final class DataClock implements Listener, LongUnaryOperator {
  /** The board tells a clock of the data apart from the reader's own from here on. */
  public static final Duration SAME = Duration.ofMinutes(1);

  private final EventClock clock;
  private long newestUs = Long.MIN_VALUE;
  private long toldAtUs;

  public DataClock(EventClock clock) {
    this.clock = clock;
  }

  @Override
  public synchronized void judged(List<Readiness> verdicts) {
    take(Math.max(newestUs, newest(verdicts)));
  }

  /** All verdicts that there are: one that was ahead may have gone. */
  public synchronized void look(Collection<Readiness> all) {
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
      toldAtUs = clock.runningUs();
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
    long dataUs = newestUs + Math.max(0, runningUs - toldAtUs);
    return Math.abs(dataUs - dateUs) < SAME.toNanos() / 1000 ? dateUs : dataUs;
  }
}
