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
 * @param temperatureC temperature now, degC; NaN where unknown
 * @param rate of the temperature, degC/min; null where unknown
 * @param rateReason why it is unknown; else null
 * @param shift of each axis over the next calibration, deg/s; null where unknown
 * @param shiftReason why it is unknown; else null
 * @param vetoed axis whose own slope shows drift, or -1
 * @param nearUseDegPerMin heading error at the use temperature, deg/min; NaN where unknown
 * @param biasDps newest still bias, deg/s; null where unknown
 * @param movedS when the tracker last moved; minus infinity if never
 * @param gapS longest gap of the last minute, s
 * @param turnedS when the temperature's rate last turned; minus infinity if never
 * @param heat what is too hot; null where nothing is
 * @param tooSlow whether the stream is too slow to see motion
 * @param rates whether the stream has any rates at all
 * @param correctedInside why drift can't be judged, where the firmware corrects the rates; else
 *     null
 * @param endlessTurn what an axis reads that can be no motion; null where none does
 * @param deadAxis axis that never changes, or -1
 * @param tail what the warm-up's tail says; empty where unknown
 * @param tailAgeS age of the tail's newest block, s
 * @param tailSpanS length of the stretch that it was read from, s
 * @param outlook what is known of body and room now; null where unknown
 * @param models the axes' bias curves; null where unknown
 */
record Evidence(
    double tS,
    double temperatureC,
    Interval rate,
    String rateReason,
    Interval[] shift,
    String shiftReason,
    int vetoed,
    double nearUseDegPerMin,
    double[] biasDps,
    double movedS,
    double gapS,
    double turnedS,
    Heat heat,
    boolean tooSlow,
    boolean rates,
    String correctedInside,
    String endlessTurn,
    int deadAxis,
    Optional<RelaxationPosterior> tail,
    double tailAgeS,
    double tailSpanS,
    RoomOutlook outlook,
    BiasModel[] models) {

  /** Why it is hot; null where it is not. */
  String hotReason() {
    return heat == null ? null : heat.reason();
  }

  /** The axis whose shift reaches furthest from zero. */
  int worstAxis() {
    int worst = 0;
    for (int i = 1; i < 3; i++) {
      worst = shift[i].reach() > shift[worst].reach() ? i : worst;
    }
    return worst;
  }
}
