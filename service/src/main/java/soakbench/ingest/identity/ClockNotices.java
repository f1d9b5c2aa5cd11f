package soakbench.ingest.identity;

import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.lines.Reading;
import soakbench.model.Spans;

/** Notices about one tracker's clock. Written by one thread, read by any. */
final class ClockNotices {
  private static final Logger LOG = LoggerFactory.getLogger(ClockNotices.class);
  private static final long WRONG_FOR_US = 10_000_000;
  private static final long SET_FOR_US = 600_000_000;

  private record Notice(String text, long untilUs) {}

  private final String tracker;
  private volatile Notice wrong;
  private volatile Notice set;
  private long loggedUs = Reading.NO_TIME;

  ClockNotices(String tracker) {
    this.tracker = tracker;
  }

  /**
   * Its clock can't be right.
   *
   * @param stampUs what it says
   * @param nowUs the date
   * @param readUs when that was, on the clock that {@link #notice} is called with
   */
  void wrong(long stampUs, long nowUs, long readUs) {
    boolean ahead = stampUs > nowUs;
    String by =
        Spans.inTwoUnits(Math.round((stampUs - nowUs) / 1e6)) + (ahead ? " ahead" : " behind");
    String text = tracker + "'s clock is " + by + ": times are taken from arrival";
    wrong = new Notice(text, readUs + WRONG_FOR_US);
    log(text, readUs);
  }

  /** Its clock was set by so much. */
  void set(long byUs, long nowUs, long readUs) {
    String at = Instant.EPOCH.plus(nowUs, ChronoUnit.MICROS).truncatedTo(ChronoUnit.SECONDS) + "";
    String way = byUs > 0 ? "forward" : "back";
    String text =
        tracker
            + "'s clock was set "
            + way
            + " by "
            + Spans.inTwoUnits(Math.round(byUs / 1e6))
            + " at "
            + at;
    set = new Notice(text + "; times go on evenly", readUs + SET_FOR_US);
    log(set.text(), readUs);
  }

  /** A clock that jumps to and fro is logged once in ten minutes. */
  private void log(String text, long readUs) {
    if (loggedUs == Reading.NO_TIME || readUs - loggedUs > SET_FOR_US) {
      loggedUs = readUs;
      LOG.warn(text);
    }
  }

  Optional<String> notice(long nowReadUs) {
    return current(wrong, nowReadUs).or(() -> current(set, nowReadUs));
  }

  private static Optional<String> current(Notice notice, long nowReadUs) {
    return Optional.ofNullable(notice).filter(s -> nowReadUs < s.untilUs()).map(Notice::text);
  }
}
