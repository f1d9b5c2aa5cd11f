package soakbench.ingest.identity;

import java.util.function.Consumer;
import java.util.function.LongSupplier;
import soakbench.ingest.rackfile.StampTolerance;
import soakbench.lines.Reading;
import soakbench.lines.Rejection;
import soakbench.lines.Rejection.Kind;

/**
 * Timestamps for one tracker's readings from a live input, where each was measured just now: they
 * rise, lie near arrival and are spaced as the readings were, whatever its clock says. A line's own
 * timestamp is trusted near arrival; else t_ms and arrival give the time, or arrival alone. A clock
 * that was set costs no line: the first line after it is timed by arrival, the second that agrees
 * with it confirms the step. A line that is late or a duplicate is refused.
 */
final class LiveTimestamps {
  /** Takes timestamped readings. */
  interface Exit {
    /** The time is that of the reading before where the two are halves of one. */
    void pass(Reading reading, long timeUs);

    /** Timestamps start over, earlier than before. */
    void beginAnew();
  }

  /** More late lines than so many, each weighing so much and each good one one less, are none. */
  private static final int LATE_ONES = 8;

  private static final int LATE_WEIGHT = 4;

  static final Rejection TWICE =
      new Rejection(Kind.NOT_RISING, "the same line as the one before, sent twice");

  private final LongSupplier correctionUs;
  private final StampTolerance tolerance;
  private final SlewedTime times;
  private final ClockNotices notices;
  private final Exit exit;
  private final Consumer<Rejection> withdrawn;
  private final Runnable unbelieved;
  private final DeviceClock deviceClock = new DeviceClock();
  private final StampStepDetector steps = new StampStepDetector();
  private Reading last;
  private boolean lastIsOtherHalf;
  private long passedReadUs;

  /** Whether timestamps follow the lines' own, not arrival. */
  private boolean byStamp;

  /** So many in a row could not be trusted. */
  private int farInARow;

  private int lateOnes;

  /** A line whose time steps back a little: late, or the first after a clock was set. */
  private Reading pending;

  private long pendingReadUs;

  /**
   * @param newestUs the time of the tracker's newest sample so far, or {@link Reading#NO_TIME}
   * @param unbelieved called for each line whose own timestamp is not used
   */
  LiveTimestamps(
      IngestRules rules,
      long newestUs,
      ClockNotices notices,
      Exit exit,
      Consumer<Rejection> withdrawn,
      Runnable unbelieved) {
    this.correctionUs = rules.correctionUs();
    this.tolerance = rules.stamps();
    this.times = new SlewedTime(tolerance, rules.bounded(), newestUs);
    this.notices = notices;
    this.exit = exit;
    this.withdrawn = withdrawn;
    this.unbelieved = unbelieved;
  }

  int reboots() {
    return deviceClock.reboots();
  }

  /**
   * @param readUs when it was read, on the arrival clock's running time
   * @return why it can't be used, or null where it was taken or waits for the next
   */
  Rejection take(Reading reading, long readUs) {
    long arrivedUs = arrivedUs(reading, readUs);
    if (pending != null) {
      settlePending(reading, arrivedUs);
    }
    return reading.timeUs() == Reading.NO_TIME
        ? byArrival(reading, arrivedUs)
        : byStamp(reading, arrivedUs);
  }

  void end() {
    if (pending != null) {
      passPending();
    }
  }

  private void passPending() {
    Reading late = pending;
    pending = null;
    goOn(late, pendingReadUs);
  }

  /** A gateway may say when a line arrived; where that can't be right, it arrived now. */
  private long arrivedUs(Reading reading, long readUs) {
    long saidUs = reading.arrivalUs();
    boolean near = saidUs != Reading.NO_TIME && tolerance.allows(saidUs, nowUs(readUs));
    return near ? saidUs - correctionUs.getAsLong() : readUs;
  }

  private long nowUs(long readUs) {
    return readUs + correctionUs.getAsLong();
  }

  private Rejection byStamp(Reading reading, long readUs) {
    long stampUs = reading.timeUs();
    boolean allowed = tolerance.allows(stampUs, nowUs(readUs));
    if (allowed) {
      steps.endBacklog();
    } else if (!byStamp || !steps.isBacklog(stampUs, readUs)) {
      return far(reading, readUs);
    }
    farInARow = 0;
    if (times.isFirst()) {
      byStamp = true;
      return believe(reading, readUs);
    }
    if (!byStamp) {
      return backToStamps(reading, readUs);
    }
    return onTrack(reading, readUs);
  }

  private Rejection onTrack(Reading reading, long readUs) {
    long stampUs = reading.timeUs();
    if (steps.agreesWithCandidate(stampUs, readUs)) {
      return stepped(reading, readUs);
    }
    if (stampUs == steps.stampUs()) {
      return same(reading, readUs);
    }
    if (stampUs < steps.stampUs() && stampUs >= steps.stampUs() - StampStepDetector.LATE_US) {
      return late(reading, readUs);
    }
    return steps.isStep(stampUs, readUs) ? stepped(reading, readUs) : believe(reading, readUs);
  }

  /** It goes on as it should. */
  private Rejection believe(Reading reading, long readUs) {
    long elapsedUs = elapsedUs(reading, readUs);
    times.follow(reading.timeUs(), 0, elapsedUs);
    steps.believe(reading.timeUs(), readUs);
    lateOnes = Math.max(0, lateOnes - 1);
    return pass(reading, readUs, reading.timeUs(), 0, !steps.hasBacklog());
  }

  /** A timestamp that can't be right. One alone is garbled; more of them are a wrong clock. */
  private Rejection far(Reading reading, long readUs) {
    unbelieved.run();
    steps.forgetCandidate();
    if (byStamp && ++farInARow == 1) {
      return evenly(reading, readUs);
    }
    notices.wrong(reading.timeUs(), nowUs(readUs), readUs);
    return byArrival(reading, readUs);
  }

  private Rejection backToStamps(Reading reading, long readUs) {
    if (!steps.agreesWithCandidate(reading.timeUs(), readUs)) {
      steps.candidate(reading.timeUs(), readUs);
      unbelieved.run();
      return byArrival(reading, readUs);
    }
    byStamp = true;
    return rebase(reading, readUs);
  }

  private Rejection rebase(Reading reading, long readUs) {
    times.rebase(reading.timeUs(), 0, elapsedUs(reading, readUs));
    steps.beginAt(reading.timeUs(), readUs);
    return pass(reading, readUs, reading.timeUs(), 0, true);
  }

  private Rejection stepped(Reading reading, long readUs) {
    if (!steps.isProved() && reading.timeUs() > steps.stampUs()) {
      // The very first time was a garbled one; nothing is there yet that a jump could distort.
      return believe(reading, readUs);
    }
    if (steps.agreesWithCandidate(reading.timeUs(), readUs)) {
      notices.set(steps.candidateStepUs(), nowUs(readUs), readUs);
      return rebase(reading, readUs);
    }
    steps.candidate(reading.timeUs(), readUs);
    unbelieved.run();
    return evenly(reading, readUs);
  }

  /** The same time again: the other half of a pair, sent twice, or a clock with coarse steps. */
  private Rejection same(Reading reading, long readUs) {
    if (reading.isOtherHalfOf(last) && !lastIsOtherHalf) {
      emit(reading, readUs, times.lastUs(), true);
      return null;
    }
    if (LinePair.areSame(last, reading)) {
      return TWICE;
    }
    unbelieved.run();
    return evenly(reading, readUs);
  }

  private Rejection late(Reading reading, long readUs) {
    boolean counted = reading.seq() >= 0 || reading.tMs() >= 0;
    if (counted && LinePair.isBefore(reading, last)) {
      return outOfOrder(reading);
    }
    if (counted) {
      return stepped(reading, readUs);
    }
    if (lateOnes > LATE_ONES) {
      // So many are not late: its clock goes to and fro.
      addLate();
      return stepped(reading, readUs);
    }
    pending = reading;
    pendingReadUs = readUs;
    return null;
  }

  private Rejection outOfOrder(Reading reading) {
    String rule =
        LinePair.text(reading.timeUs()) + " is not after " + LinePair.text(steps.stampUs());
    return new Rejection(Kind.NOT_RISING, "time " + rule + " of the line before");
  }

  private void addLate() {
    lateOnes = Math.min(2 * LATE_ONES, lateOnes + LATE_WEIGHT);
  }

  /** The line after a late one says what that was. */
  private void settlePending(Reading next, long readUs) {
    boolean wasLate = next.timeUs() != Reading.NO_TIME && steps.goesOn(next.timeUs(), readUs);
    if (wasLate) {
      withdrawn.accept(outOfOrder(pending));
      pending = null;
      addLate();
      return;
    }
    steps.candidate(pending.timeUs(), pendingReadUs);
    passPending();
  }

  private Rejection byArrival(Reading reading, long readUs) {
    if (LinePair.areSame(last, reading) && (reading.tMs() >= 0 || reading.seq() >= 0)) {
      return TWICE;
    }
    long baseUs = readUs;
    if (reading.tMs() >= 0) {
      baseUs = deviceClock.map(reading.tMs(), reading.seq(), reading.boot(), readUs);
      if (baseUs == DeviceClock.OUT_OF_ORDER) {
        String order = "t_ms " + reading.tMs() + " doesn't go on from " + last.tMs();
        return new Rejection(Kind.NOT_RISING, order + " of the line before");
      }
    }
    long dateUs = correctionUs.getAsLong();
    boolean half = false;
    if (byStamp) {
      times.rebase(baseUs, dateUs, elapsedUs(reading, readUs));
    } else {
      half = isOtherHalf(reading);
      long beforeUs = times.lastUs();
      times.follow(baseUs, dateUs, elapsedUs(reading, readUs));
      if (half && times.lastUs() == beforeUs + 1) {
        emit(reading, readUs, beforeUs, true);
        return null;
      }
    }
    byStamp = false;
    return pass(reading, readUs, baseUs, dateUs, true);
  }

  private boolean isOtherHalf(Reading reading) {
    return last != null
        && !lastIsOtherHalf
        && reading.tMs() == last.tMs()
        && reading.isOtherHalfOf(last);
  }

  private Rejection evenly(Reading reading, long readUs) {
    goOn(reading, readUs);
    return null;
  }

  private void goOn(Reading reading, long readUs) {
    times.goOn(elapsedUs(reading, readUs));
    emit(reading, readUs, times.lastUs(), false);
  }

  private Rejection pass(
      Reading reading, long readUs, long baseUs, long shiftUs, boolean keptNear) {
    if (keptNear && times.keepNear(baseUs, shiftUs, nowUs(readUs))) {
      exit.beginAnew();
    }
    emit(reading, readUs, times.lastUs(), false);
    return null;
  }

  private void emit(Reading reading, long readUs, long timeUs, boolean otherHalf) {
    last = reading;
    lastIsOtherHalf = otherHalf;
    passedReadUs = readUs;
    exit.pass(reading, timeUs);
  }

  /** Between the reading that was passed last and this one, by t_ms where arrival agrees. */
  private long elapsedUs(Reading reading, long readUs) {
    if (last == null) {
      return 0;
    }
    long arrivalUs = Math.max(0, readUs - passedReadUs);
    if (reading.tMs() < 0 || last.tMs() < 0) {
      return arrivalUs;
    }
    long countedUs = (reading.tMs() - last.tMs()) * 1000;
    boolean agrees = countedUs >= 0 && Math.abs(countedUs - arrivalUs) <= StampStepDetector.STEP_US;
    return agrees ? countedUs : arrivalUs;
  }
}
