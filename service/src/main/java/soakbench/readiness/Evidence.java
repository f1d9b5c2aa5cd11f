package soakbench.readiness;

import java.util.Optional;
import soakbench.drift.still.BiasModel;
import soakbench.numerics.RelaxationPosterior;
import soakbench.thermal.RoomOutlook;

/**
 * All that is known of one tracker at the end of one second. Times are seconds since the soak
 * began.
 *
 * @param tS the end of the second
 * @param temperature what is known of its temperature
 * @param bias what is known of its bias
 * @param lines what its lines allow to be seen
 * @param movedS when the tracker last moved; minus infinity if never
 * @param heat what is too hot; null where nothing is
 */
record Evidence(
    double tS, Temperature temperature, Bias bias, Lines lines, double movedS, Heat heat) {

  /**
   * The temperature now, its rate, and the fit that both come from.
   *
   * @param nowC temperature now, degC; NaN where unknown
   * @param rate its rate, degC/min; null where unknown
   * @param rateReason why that is unknown; else null
   * @param turnedS when the rate last turned; minus infinity if never
   * @param window the fit window of the warm-up
   */
  record Temperature(
      double nowC, TostInterval rate, String rateReason, double turnedS, FitWindow window) {

    boolean known() {
      return !Double.isNaN(nowC);
    }
  }

  /**
   * What the warm-up's fit window says.
   *
   * @param fit the fit; empty where unknown
   * @param ageS age of the window's newest block, s
   * @param spanS length of the window, s
   * @param outlook what is known of body and room now; null where unknown
   */
  record FitWindow(
      Optional<RelaxationPosterior> fit, double ageS, double spanS, RoomOutlook outlook) {}

  /**
   * The bias of the axes, and where it goes.
   *
   * @param dps newest still bias, deg/s; null where unknown
   * @param models the axes' bias curves; null where unknown
   * @param shift of each axis over the next calibration, deg/s; null where unknown
   * @param shiftReason why that is unknown; else null
   * @param vetoed axis whose own slope shows drift, or -1
   * @param nearUseDegPerMin heading error at the use temperature, deg/min; NaN where unknown
   */
  record Bias(
      double[] dps,
      BiasModel[] models,
      TostInterval[] shift,
      String shiftReason,
      int vetoed,
      double nearUseDegPerMin) {

    /** The shift of the axis that reaches furthest from zero; only where shifts are known. */
    TostInterval worstShift() {
      return shift[worstAxis()];
    }

    /** The axis whose shift reaches furthest from zero; only where shifts are known. */
    int worstAxis() {
      int worst = 0;
      for (int i = 1; i < 3; i++) {
        worst = shift[i].reach() > shift[worst].reach() ? i : worst;
      }
      return worst;
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
   * @param deadAxis axis that never changes, or -1
   */
  record Lines(
      boolean rates,
      boolean tooSlow,
      double gapS,
      String correctedInside,
      String endlessTurn,
      int deadAxis) {

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
