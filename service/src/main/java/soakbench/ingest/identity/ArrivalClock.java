package soakbench.ingest.identity;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.EventClock;
import soakbench.model.Spans;

/**
 * The wall clock as it was at the start, carried on by the monotonic clock, and corrected where the
 * wall clock is set: forward (a bench computer learns the time after it has started, a laptop
 * slept) and back. Each correction is logged once, with its size.
 *
 * <p>It can be read in two ways: {@link #runningUs} never steps, so that intervals and waits are
 * true over a correction; {@link #nowUs} is the date. Thread-safe.
 */
public final class ArrivalClock implements EventClock {
  private static final Logger LOG = LoggerFactory.getLogger(ArrivalClock.class);

  /** Smaller differences are slewed by the system's time service; they are left until they grow. */
  private static final long STEP_US = 1_000_000;

  private final LongSupplier dateUs;
  private final LongSupplier monotonicUs;
  private final long startUs;
  private volatile long correctionUs;

  /** This computer's. */
  public ArrivalClock() {
    this(ArrivalClock::computersDateUs);
  }

  /**
   * With a wall clock that is better than this computer's.
   *
   * @param dateUs microseconds since 1970; may step
   */
  public ArrivalClock(LongSupplier dateUs) {
    this(dateUs, () -> System.nanoTime() / 1000);
  }

  /** With clocks of one's own, for tests. */
  public ArrivalClock(LongSupplier dateUs, LongSupplier monotonicUs) {
    this.dateUs = dateUs;
    this.monotonicUs = monotonicUs;
    this.startUs = dateUs.getAsLong() - monotonicUs.getAsLong();
  }

  public static long computersDateUs() {
    return ChronoUnit.MICROS.between(Instant.EPOCH, Instant.now());
  }

  /** What the date would be had it not been set since the start: microseconds, never falling. */
  @Override
  public long runningUs() {
    return monotonicUs.getAsLong() + startUs;
  }

  /** The date, microseconds since 1970. It falls only where the date was set back by over 1 s. */
  @Override
  public long nowUs() {
    return runningUs() + checkedCorrectionUs();
  }

  /** How much the date was set forward since the start, microseconds; negative for back. */
  public long correctionUs() {
    return correctionUs;
  }

  /** Looks at the date first. */
  synchronized long checkedCorrectionUs() {
    long stepUs = dateUs.getAsLong() - runningUs() - correctionUs;
    if (Math.abs(stepUs) > STEP_US) {
      correctionUs += stepUs;
      LOG.warn(
          "the computer's date was set {} by {}, or it slept; what arrives is dated by it from"
              + " here on",
          stepUs > 0 ? "forward" : "back",
          Spans.inTwoUnits(Math.round(stepUs / 1e6)));
    }
    return correctionUs;
  }
}
