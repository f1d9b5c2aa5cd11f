package soakbench.ingest;

import java.time.DateTimeException;
import java.time.ZonedDateTime;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;
import java.util.function.LongSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Compares this computer's date with the service's, which stands in each of its answers. Samples
 * bear the time of the computer that reads them; where that is wrong by minutes, so are they.
 */
final class ClockCheck {
  private static final Logger LOG = LoggerFactory.getLogger(ClockCheck.class);
  private static final long TOLD_FROM_MS = 60_000;

  /** The header counts whole seconds. */
  private static final long HALF_STEP_MS = 500;

  private final LongSupplier nowMs;
  private volatile String notice;
  private long toldMs;

  ClockCheck(LongSupplier nowMs) {
    this.nowMs = nowMs;
  }

  /**
   * Hears an answer's Date.
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

  private void compare(long serviceMs, long sentMs, long receivedMs) {
    // It was written somewhere between the two.
    long surelyMs = 0;
    if (serviceMs < sentMs) {
      surelyMs = sentMs - serviceMs;
    } else if (serviceMs > receivedMs) {
      surelyMs = receivedMs - serviceMs;
    }
    if (Math.abs(surelyMs) < TOLD_FROM_MS) {
      if (notice != null) {
        LOG.info("this computer's clock agrees with the service's again");
      }
      notice = null;
      toldMs = 0;
      return;
    }
    notice = sentence(surelyMs);
    if (Math.abs(surelyMs - toldMs) >= TOLD_FROM_MS) {
      toldMs = surelyMs;
      LOG.warn(notice);
    }
  }

  private static String sentence(long aheadMs) {
    return String.format(
        Locale.ROOT,
        "this computer's clock is %.1f minutes %s the service's, and so are the times of its"
            + " samples; set the clock that is wrong, then restart this program",
        Math.abs(aheadMs) / 60e3,
        aheadMs > 0 ? "ahead of" : "behind");
  }

  /** The difference in a sentence, while it is a minute or more. */
  Optional<String> notice() {
    return Optional.ofNullable(notice);
  }
}
