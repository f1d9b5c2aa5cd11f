package soakbench.ingest.identity;

import java.util.function.Consumer;
import soakbench.lines.Reading;
import soakbench.lines.ReadingJoiner;
import soakbench.lines.Rejection;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

/**
 * The readings of one tracker on one source: timestamps each and joins what belongs together. Those
 * from a live input are timestamped by {@link LiveTimestamps}; a recording's own timestamps are
 * trusted.
 */
final class TrackerStream {
  /**
   * After a gap like this, or first of all, a line's own timestamp is trusted once the next agrees.
   */
  private static final long JUMP_US = 60_000_000;

  /** So little may the clock have been set back between two runs for times to rise over it. */
  private static final long STEP_BACK_US = 10_000_000;

  private final DeviceClock deviceClock = new DeviceClock();
  private final BootTimeClock bootTimeClock = new BootTimeClock();
  private final SeqLoss losses = new SeqLoss();
  private final ReadingJoiner joiner;
  private final long newestUs;
  private final Consumer<Sample> samples;
  private final Consumer<Rejection> withdrawn;
  private final Runnable rebooted;

  /** Null where lines' own timestamps are trusted. */
  private final LiveTimestamps live;

  private Reading last;
  private long lastUs = Reading.NO_TIME;
  private boolean lastIsOtherHalf;
  private Reading doubtful;

  /**
   * @param rules how far the timestamps of lines are trusted
   * @param newestUs the time of the tracker's newest sample so far, or {@link Reading#NO_TIME}
   */
  TrackerStream(
      ReadingJoiner joiner, IngestRules rules, long newestUs, ClockNotices notices, Exit exit) {
    this.joiner = joiner;
    this.newestUs = newestUs;
    this.samples = exit.samples();
    this.withdrawn = exit.withdrawn();
    this.rebooted = exit.rebooted();
    this.live =
        rules.stamps().believed()
            ? null
            : new LiveTimestamps(
                rules, newestUs, notices, out(), exit.withdrawn(), exit.unbelieved());
  }

  /**
   * Where everything goes.
   *
   * @param withdrawn called for a reading that was taken first and then found wrong
   * @param rebooted called when the tracker's counters show a reboot, after the line that shows it
   * @param unbelieved called for each line whose own timestamp is not used
   */
  record Exit(
      Consumer<Sample> samples,
      Consumer<Rejection> withdrawn,
      Runnable rebooted,
      Runnable unbelieved) {}

  private LiveTimestamps.Exit out() {
    return new LiveTimestamps.Exit() {
      @Override
      public void pass(Reading reading, long timeUs) {
        TrackerStream.this.pass(reading, timeUs);
      }

      @Override
      public void beginAnew() {
        joiner.restart(samples);
      }
    };
  }

  /**
   * @param readUs when the bytes were read, or {@link Reading#NO_TIME} in a recording
   * @return why it can't be used, or null where it was taken
   */
  Rejection take(Reading reading, long readUs) {
    if (readUs != Reading.NO_TIME) {
      losses.heard(reading.seq(), reading.tMs(), reading.boot(), readUs);
    }
    int rebootsBefore = reboots();
    boolean bootChanged =
        reading.timeUs() != Reading.NO_TIME && LinePair.isOtherBoot(reading, last);
    Rejection why = timed(reading, readUs);
    if (bootChanged && why == null || reboots() > rebootsBefore) {
      rebooted.run();
    }
    return why;
  }

  private int reboots() {
    return deviceClock.reboots() + (live == null ? 0 : live.reboots());
  }

  private Rejection timed(Reading reading, long readUs) {
    if (live != null && readUs != Reading.NO_TIME) {
      return live.take(reading, readUs);
    }
    return reading.timeUs() == Reading.NO_TIME ? takeMapped(reading, readUs) : takeTimed(reading);
  }

  /** How many lines never came, by the tracker's own counter. */
  long lost(long nowUs) {
    return losses.lost(nowUs);
  }

  void end() {
    if (doubtful != null) {
      pass(doubtful, doubtful.timeUs());
      doubtful = null;
    }
    if (live != null) {
      live.end();
    }
    joiner.end(samples);
  }

  private Rejection takeTimed(Reading reading) {
    long timeUs = reading.timeUs();
    if (doubtful != null) {
      settleDoubt(timeUs);
    }
    if (lastUs != Reading.NO_TIME && timeUs <= lastUs && !isOtherHalf(reading, timeUs)) {
      String rule =
          LinePair.text(timeUs) + " is not after " + LinePair.text(lastUs) + " of the line before";
      return new Rejection(Kind.NOT_RISING, "time " + rule);
    }
    if (lastUs == Reading.NO_TIME || timeUs - lastUs > JUMP_US) {
      doubtful = reading;
    } else {
      pass(reading, timeUs);
    }
    return null;
  }

  /** A garbled time in the future would shut out every line after it. */
  private void settleDoubt(long nextUs) {
    if (nextUs >= doubtful.timeUs()) {
      pass(doubtful, doubtful.timeUs());
    } else {
      String jump =
          "time jumped to "
              + LinePair.text(doubtful.timeUs())
              + " and back to "
              + LinePair.text(nextUs);
      withdrawn.accept(new Rejection(Kind.BAD_TIME, jump));
    }
    doubtful = null;
  }

  private Rejection takeMapped(Reading reading, long readUs) {
    long arrivalUs = reading.arrivalUs() == Reading.NO_TIME ? readUs : reading.arrivalUs();
    if (reading.tMs() < 0 && arrivalUs == Reading.NO_TIME) {
      return new Rejection(Kind.NO_TIME, "no time, t_ms or arrival: a recording needs one of them");
    }
    if (isRepeated(reading)) {
      return new Rejection(Kind.NOT_RISING, "the same line as the one before, sent twice");
    }
    long timeUs = mapped(reading, arrivalUs);
    if (timeUs == DeviceClock.OUT_OF_ORDER) {
      String order = "t_ms " + reading.tMs() + " doesn't go on from " + last.tMs();
      return new Rejection(Kind.NOT_RISING, order + " of the line before");
    }
    if (doubtful != null) {
      settleDoubt(timeUs);
    }
    boolean rises = timeUs > floorUs(timeUs) || isOtherHalf(reading, timeUs);
    pass(reading, rises ? timeUs : floorUs(timeUs) + 1);
    return null;
  }

  /** What the next time must be after: this stream's last, at first that of an earlier run. */
  private long floorUs(long timeUs) {
    boolean goesOn = lastUs == Reading.NO_TIME && newestUs - STEP_BACK_US <= timeUs;
    return goesOn ? newestUs : lastUs;
  }

  private long mapped(Reading reading, long arrivalUs) {
    if (reading.tMs() < 0) {
      return arrivalUs;
    }
    return arrivalUs == Reading.NO_TIME
        ? bootTimeClock.map(reading.tMs())
        : deviceClock.map(reading.tMs(), reading.seq(), reading.boot(), arrivalUs);
  }

  /** A temperature and rates that are sent apart may bear the same time. */
  private boolean isOtherHalf(Reading reading, long timeUs) {
    return timeUs == lastUs && !lastIsOtherHalf && reading.isOtherHalfOf(last);
  }

  private boolean isRepeated(Reading reading) {
    boolean counted = reading.tMs() >= 0 || reading.seq() >= 0;
    return counted && LinePair.areSame(last, reading);
  }

  private void pass(Reading reading, long timeUs) {
    lastIsOtherHalf = timeUs == lastUs;
    last = reading;
    lastUs = timeUs;
    joiner.take(reading, timeUs, samples);
  }
}
