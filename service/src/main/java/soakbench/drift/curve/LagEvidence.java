package soakbench.drift.curve;

import java.util.List;
import soakbench.numerics.Condition;

/**
 * Whether a soak separates thermal lag from the coefficient: it must have cooled through
 * temperatures that it warmed through, or have had a break at which the rate jumped. One smooth
 * warm-up can't.
 *
 * @param condition number of the curve's columns and the rate's together; null where not asked
 * @param reason why the lag is not identified; null where it is
 */
record LagEvidence(Double condition, String reason) {
  private static final double WORST_CONDITION = 30;

  /** A jump of the rate that counts, degC/s: 0.2 degC/min. */
  private static final double LEAST_JUMP = 0.2 / 60;

  /** The chip's own warming after power-on is no break, s. */
  private static final double CHIP_IS_WARM_S = 300;

  private static final double BESIDE_S = 60;

  static LagEvidence of(StillSoak soak, List<CurveBlock> blocks, int order, double[] breaksS) {
    if (!ThermalBranches.of(blocks).overlap() && !jumped(soak, breaksS)) {
      return new LagEvidence(
          null,
          "one smooth warm-up can't tell it from the coefficient: it takes a cooling, or a break");
    }
    CurveDesign design = CurveDesign.of(blocks, order, Double.POSITIVE_INFINITY);
    double condition = Condition.of(design.withoutOffsets(true));
    if (!(condition <= WORST_CONDITION)) {
      return new LagEvidence(
          condition,
          String.format(
              java.util.Locale.ROOT,
              "it can't be told from the coefficient: condition number %.0f, at most %.0f is"
                  + " allowed; cool it slowly and warm it again",
              condition,
              WORST_CONDITION));
    }
    return new LagEvidence(condition, null);
  }

  private static boolean jumped(StillSoak soak, double[] breaksS) {
    for (double at : breaksS) {
      double before = soak.course().over(at - BESIDE_S, BESIDE_S).rateCPerS();
      double after = soak.course().over(at + BESIDE_S, BESIDE_S).rateCPerS();
      if (at > CHIP_IS_WARM_S && Math.abs(after - before) > LEAST_JUMP) {
        return true;
      }
    }
    return false;
  }

  boolean identified() {
    return reason == null;
  }
}
