package soakbench.readiness;

import soakbench.model.State;
import soakbench.readiness.Calibration.Status;
import soakbench.readiness.CalibrationCheck.Verdict;

/** What is to be done next with a tracker; null where nothing is but to wait. */
public enum NextStep {
  /** It is ready, and was not calibrated since, or not well, or was moved since. */
  CALIBRATE,
  /** Somebody has to say whether it was calibrated. */
  ANSWER,
  /** It was calibrated: leave it alone until the check is done. */
  CHECK,
  /**
   * It was calibrated and the check says keep: nothing is left to do but to take it off. Once it is
   * silent also where it was good and only its use is not known: then it was taken off most likely.
   */
  KEEP,
  /** It was calibrated, and the check can't tell: keep it or do it again. */
  DECIDE,
  /** It is too hot or heads for it, or was when it fell silent. */
  UNCOVER;

  /** A check is there a minute and a half after laying down; what is not there by then won't be. */
  private static final long CHECK_WITHIN_US = 300_000_000L;

  private static final long STILL_MINUTE_US = 1_000_000L * CalibrationCheck.LOOK_S;

  /**
   * The next step.
   *
   * @param newest the tracker's newest mark or question; null where it has none
   * @param done whether it was calibrated in this soak and found good, wherever it is now
   * @return null where nothing is to be done but to wait
   */
  public static NextStep of(Readiness verdict, Calibration newest, boolean done) {
    if (verdict.state() == State.HOT || verdict.heat() != null) {
      return UNCOVER;
    }
    if (verdict.state() == State.SILENT) {
      return done ? KEEP : null;
    }
    return verdict.state() == State.READY ? ready(verdict, newest) : null;
  }

  private static NextStep ready(Readiness verdict, Calibration newest) {
    if (newest == null || newest.status() == Status.UNDONE) {
      return CALIBRATE;
    }
    long stillSinceUs = stillSinceUs(verdict);
    if (newest.awaitsCheck()) {
      long sinceUs = Math.max(newest.atUs(), stillSinceUs);
      if (verdict.asOfUs() - sinceUs < CHECK_WITHIN_US) {
        return CHECK;
      }
    }
    if (!lies(newest, stillSinceUs)) {
      return CALIBRATE;
    }
    return newest.status() == Status.QUESTION ? ANSWER : checked(newest);
  }

  private static NextStep checked(Calibration mark) {
    Verdict verdict = mark.check() == null ? null : mark.check().result().verdict();
    if (verdict == Verdict.KEEP) {
      return KEEP;
    }
    return verdict == Verdict.UNKNOWN ? DECIDE : CALIBRATE;
  }

  /** Whether a tracker was moved since the check of a calibration of this soak. */
  public static boolean movedSinceCheck(Readiness verdict, Calibration newest) {
    return newest != null
        && newest.check() != null
        && newest.soak().equals(verdict.soak())
        && !lies(newest, stillSinceUs(verdict));
  }

  /**
   * Whether somebody may just have calibrated it, or may while it lies, so that "calibrated now"
   * can be true of it: it is ready or can't be judged, or was taken up from there, or was laid down
   * in the last five minutes and soaks again.
   */
  public static boolean mayBeCalibrated(Readiness verdict) {
    State before = verdict.standing().before();
    return switch (verdict.state()) {
      case READY, UNDECIDED -> true;
      case DISTURBED ->
          before == State.READY || before == State.UNDECIDED || before == State.SOAKING;
      case SOAKING -> laidDownJustNow(verdict);
      // In the open it cools: what is over the band comes from somewhere warmer.
      case COOLING -> laidDownJustNow(verdict) && !overTheBand(verdict);
      default -> false;
    };
  }

  private static boolean laidDownJustNow(Readiness verdict) {
    return verdict.asOfUs() - stillSinceUs(verdict) < CHECK_WITHIN_US;
  }

  private static boolean overTheBand(Readiness verdict) {
    return verdict.conditions().stream()
        .filter(c -> c.name().equals("operating_band") && c.found().value() != null)
        .anyMatch(c -> c.found().value() > c.wanted().limitHigh());
  }

  /**
   * Whether it lies as it did in the still minute after its calibration. The verdict takes half a
   * minute to learn how it lies, and counts that as motion: so the end of that minute is asked.
   */
  private static boolean lies(Calibration mark, long stillSinceUs) {
    if (mark.check() != null) {
      return stillSinceUs <= mark.check().toUs();
    }
    return mark.handling() != null
        && stillSinceUs <= mark.handling().restSecond() * 1_000_000L + STILL_MINUTE_US;
  }

  /** Since when it has lain still, or the soak's begin; not before now where that is not known. */
  private static long stillSinceUs(Readiness verdict) {
    return verdict.conditions().stream()
        .filter(c -> c.name().equals("still") && c.found().value() != null)
        .map(c -> verdict.asOfUs() - Math.round(1e6 * c.found().value()))
        .findFirst()
        .orElse(verdict.asOfUs());
  }
}
