package soakbench.ingest.identity;

import soakbench.ingest.rackfile.StampTolerance;
import soakbench.lines.Reading;

/**
 * The timestamps given to one tracker's samples: a base, which gives their spacing, plus an offset
 * to the wall clock. Where the base or the wall clock steps, the offset absorbs the step, so that
 * timestamps stay evenly spaced, and is then slewed away at 2 % of the time that passes: a rate of
 * change is never distorted by more.
 */
final class SlewedTime {
  /** So little may the clock have been set back between two runs for times to rise over it. */
  private static final long STEP_BACK_US = 10_000_000;

  private static final double FADE = 0.02;
  private static final long JITTER_US = 2_000_000;

  private final StampTolerance tolerance;
  private final boolean bounded;
  private final long newestUs;
  private long lastUs = Reading.NO_TIME;
  private long shiftUs;

  /**
   * @param bounded whether a time may never lie further ahead of the date than the rule allows,
   *     even where the date was set back: then times step back once
   * @param newestUs the time of the newest sample of an earlier run, or {@link Reading#NO_TIME}
   */
  SlewedTime(StampTolerance tolerance, boolean bounded, long newestUs) {
    this.tolerance = tolerance;
    this.bounded = bounded;
    this.newestUs = newestUs;
  }

  boolean isFirst() {
    return lastUs == Reading.NO_TIME;
  }

  long lastUs() {
    return lastUs;
  }

  /**
   * The next time by a base that goes on as before.
   *
   * @param wantedShiftUs what the offset is slewed to
   * @param elapsedUs since the reading before
   */
  void follow(long baseUs, long wantedShiftUs, long elapsedUs) {
    if (isFirst()) {
      begin(baseUs, wantedShiftUs);
    } else {
      long most = Math.round(elapsedUs * FADE);
      shiftUs += Math.max(-most, Math.min(most, wantedShiftUs - shiftUs));
      lastUs = Math.max(lastUs + 1, baseUs + shiftUs);
    }
  }

  /** The next time by a base that has stepped, or is another one. */
  void rebase(long baseUs, long wantedShiftUs, long elapsedUs) {
    if (isFirst()) {
      begin(baseUs, wantedShiftUs);
    } else {
      lastUs += Math.max(1, elapsedUs);
      shiftUs = lastUs - baseUs;
    }
  }

  /** The next time without any base: as much later as it arrived later. */
  void goOn(long elapsedUs) {
    lastUs += Math.max(1, elapsedUs);
  }

  private void begin(long baseUs, long wantedShiftUs) {
    shiftUs = wantedShiftUs;
    lastUs = baseUs + shiftUs;
    if (newestUs != Reading.NO_TIME && lastUs <= newestUs && newestUs - STEP_BACK_US <= lastUs) {
      lastUs = newestUs + 1;
      shiftUs = lastUs - baseUs;
    }
  }

  /**
   * Keeps the timestamp near the date: one left too far behind jumps forward.
   *
   * @return whether it had to step back, which it does only where it is bounded
   */
  boolean keepNear(long baseUs, long wantedShiftUs, long nowUs) {
    if (lastUs < nowUs - tolerance.behindUs()) {
      shiftUs = wantedShiftUs;
      lastUs = Math.max(lastUs, Math.max(nowUs - tolerance.behindUs(), baseUs + shiftUs));
    } else if (bounded && lastUs > nowUs + tolerance.aheadUs() + JITTER_US) {
      shiftUs = wantedShiftUs;
      lastUs = Math.min(nowUs, baseUs + shiftUs);
      return true;
    }
    return false;
  }
}
