package soakbench.readiness;

import java.util.function.DoubleSupplier;
import soakbench.drift.still.BiasModel;
import soakbench.numerics.Measured;
import soakbench.readiness.estimator.Answer;
import soakbench.readiness.estimator.TostInterval;

/**
 * All that is known of one tracker at the end of one second. Times are seconds since the soak
 * began.
 *
 * @param tS the end of the second
 * @param temperature what is known of its temperature
 * @param bias what is known of its bias
 * @param lines what its lines allow to be seen
 * @param dwell how long all has held, and whether it is ready
 * @param expected when it will be; null where that is not known
 * @param heat what is too hot; null where nothing is
 */
record Evidence(
    double tS,
    Temperature temperature,
    Bias bias,
    Lines lines,
    Answer.Dwell dwell,
    Answer.Expected expected,
    Heat heat) {

  /**
   * The temperature now, its rate, and where it goes.
   *
   * @param nowC temperature now, degC; NaN where unknown
   * @param rate its rate, degC/min; null where unknown
   * @param rateReason why that is unknown; else null
   * @param course what the estimator says of it; null where unknown
   */
  record Temperature(double nowC, TostInterval rate, String rateReason, Answer.Temperature course) {

    boolean known() {
      return !Double.isNaN(nowC);
    }

    /** Where it levels off, degC; only where its course is known. */
    Measured level() {
      return course.relaxation().plateau();
    }

    /** For how long its course was followed without anything unforeseen, s. */
    double followedS() {
      return course == null ? 0 : course.followedS();
    }
  }

  /**
   * The bias of the axes, and where it goes.
   *
   * @param dps newest still bias, deg/s; null where unknown
   * @param models the axes' bias curves; null where unknown
   * @param shifts of each axis over the next calibration, deg/s; null where unknown
   * @param shiftReason why that is unknown; else null
   * @param nearUse heading error at the use temperature, deg/min; NaN where unknown. Worked out
   *     when asked for, as few verdicts are
   */
  record Bias(
      double[] dps,
      BiasModel[] models,
      Answer.Shifts shifts,
      String shiftReason,
      DoubleSupplier nearUse) {

    double nearUseDegPerMin() {
      return nearUse.getAsDouble();
    }
  }

  /**
   * What the tracker's lines allow to be seen.
   *
   * @param rates whether they have carried any rates at all
   * @param tooSlow whether they come too slowly to see motion
   * @param gapS longest gap of the last minute, s
   * @param correctedInside why drift can't be judged, where the firmware corrects the rates; else
   *     null
   * @param endlessTurn what an axis reads that can be no motion; null where none does
   * @param deadGyro what reads one and the same value and so is dead; null where all axes live
   * @param movedS when the tracker last moved; minus infinity if never
   */
  record Lines(
      boolean rates,
      boolean tooSlow,
      double gapS,
      String correctedInside,
      String endlessTurn,
      String deadGyro,
      double movedS) {

    /** Whether motion can be seen in them. */
    boolean showMotion() {
      return rates && !tooSlow;
    }
  }

  /** Why it is hot; null where it is not. */
  String hotReason() {
    return heat == null ? null : heat.reason();
  }
}
