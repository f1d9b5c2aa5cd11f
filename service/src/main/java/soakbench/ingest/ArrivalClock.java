package soakbench.ingest;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Says when bytes arrive: the computer's time, but never going back, so that setting the date
 * doesn't disturb a soak. A date set forward is followed, as a bench computer often learns the time
 * after it has started. For any thread.
 */
final class ArrivalClock {
  private static final Logger LOG = LoggerFactory.getLogger(ArrivalClock.class);
  private static final long STEP_US = 1_000_000;

  private final LongSupplier dateUs;
  private final LongSupplier monotonicUs;
  private long offsetUs;
  private boolean toldBack;

  ArrivalClock() {
    this(
        () -> ChronoUnit.MICROS.between(Instant.EPOCH, Instant.now()),
        () -> System.nanoTime() / 1000);
  }

  /** With clocks of one's own, for tests. */
  ArrivalClock(LongSupplier dateUs, LongSupplier monotonicUs) {
    this.dateUs = dateUs;
    this.monotonicUs = monotonicUs;
    this.offsetUs = dateUs.getAsLong() - monotonicUs.getAsLong();
  }

  /** Microseconds since 1970, never falling. */
  synchronized long nowUs() {
    long runningUs = monotonicUs.getAsLong() + offsetUs;
    long aheadUs = dateUs.getAsLong() - runningUs;
    if (aheadUs > STEP_US) {
      LOG.warn("the computer's time went forward by {} s; sample times follow", aheadUs / 1e6);
      offsetUs += aheadUs;
      return runningUs + aheadUs;
    }
    if (aheadUs < -STEP_US && !toldBack) {
      toldBack = true;
      LOG.warn(
          "the computer's time went back by {} s; sample times run on as before until a restart",
          -aheadUs / 1e6);
    }
    return runningUs;
  }
}
