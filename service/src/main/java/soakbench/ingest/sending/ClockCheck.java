package soakbench.ingest.sending;

import java.time.DateTimeException;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Compares this computer's date with the service's, which is in the header of each of its
 * responses. Where they differ by over half a minute samples are dated by the service's clock: it
 * refuses what lies a minute ahead of it.
 */
final class ClockCheck {
  private static final Logger LOG = LoggerFactory.getLogger(ClockCheck.class);
  private static final long REPORTED_FROM_MS = 60_000;

  /** From such a difference on the service's date is followed. */
  private static final long FOLLOWED_FROM_MS = 30_000;

  /** The header counts whole seconds. */
  private static final long HALF_STEP_MS = 500;

  private final LongSupplier nowMs;
  private volatile String notice;
  private long reportedMs;

  /** What to add to the monotonic clock for the service's date, ms; null while they agree. */
  private volatile Long serviceMs;

  ClockCheck(LongSupplier nowMs) {
    this.nowMs = nowMs;
  }

  /**
   * Takes a response's Date header.
   *
   * @param sentMs this computer's date when the request was sent, milliseconds since 1970
   */
  synchronized void heard(Optional<String> date, long sentMs) {
    if (date.isPresent()) {
      try {
        compare(milliseconds(date.get()) + HALF_STEP_MS, sentMs, nowMs.getAsLong());
      } catch (DateTimeException e) {
        LOG.debug("no date: {}", date.get(), e);
      }
    }
  }

  private static long milliseconds(String date) {
    return ZonedDateTime.parse(date, DateTimeFormatter.RFC_1123_DATE_TIME)
        .toInstant()
        .toEpochMilli();
  }

  private void compare(long answeredMs, long sentMs, long receivedMs) {
    // It was written somewhere between the two.
    long surelyMs = 0;
    if (answeredMs < sentMs) {
      surelyMs = sentMs - answeredMs;
    } else if (answeredMs > receivedMs) {
      surelyMs = receivedMs - answeredMs;
    }
    boolean followed = Math.abs(surelyMs) > FOLLOWED_FROM_MS;
    serviceMs = followed ? answeredMs - monotonicMs() : null;
    if (Math.abs(surelyMs) < REPORTED_FROM_MS) {
      if (notice != null) {
        LOG.info("this computer's clock agrees with the service's again");
      }
      notice = null;
      reportedMs = 0;
      return;
    }
    notice = sentence(surelyMs);
    if (Math.abs(surelyMs - reportedMs) >= REPORTED_FROM_MS) {
      reportedMs = surelyMs;
      LOG.warn(notice);
    }
  }

  private static long monotonicMs() {
    return System.nanoTime() / 1_000_000;
  }

  /**
   * The service's date where this computer's is known to differ from it by over half a minute, else
   * this computer's: microseconds since 1970. Setting this computer's right is seen at once.
   */
  long dateUs() {
    long hereMs = nowMs.getAsLong();
    Long offsetMs = serviceMs;
    if (offsetMs == null) {
      return hereMs * 1000;
    }
    long thereMs = offsetMs + monotonicMs();
    return (Math.abs(thereMs - hereMs) > FOLLOWED_FROM_MS ? thereMs : hereMs) * 1000;
  }

  private static String sentence(long aheadMs) {
    return String.format(
        Locale.ROOT,
        "this computer's clock is %.1f minutes %s the service's, so samples are dated by the"
            + " service's; set the clock that is wrong",
        Math.abs(aheadMs) / 60e3,
        aheadMs > 0 ? "ahead of" : "behind");
  }

  /** The difference in a sentence, while it is a minute or more. */
  Optional<String> notice() {
    return Optional.ofNullable(notice);
  }
}
