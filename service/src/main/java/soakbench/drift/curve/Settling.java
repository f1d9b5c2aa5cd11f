package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import soakbench.drift.still.BiasModel;
import soakbench.model.Estimate;
import soakbench.numerics.ColouredRegression;

/**
 * Turn-on settling: one term in the time since power-on, reported only where a second soak shows it
 * again. In one soak it can't be separated from what the temperature does, which settles likewise.
 */
final class Settling {
  /** How fast it dies away, s (common practice, no source). */
  static final double SETTLES_S = 300;

  private Settling() {}

  /**
   * One for each axis.
   *
   * @param again another soak of the same tracker, or null
   */
  static List<Estimate> of(StillSoak soak, CurveDesign design, StillSoak again) {
    if (again == null) {
      return Collections.nCopies(
          3,
          Estimate.unknown("one soak can't tell it from the curve; name another of this tracker"));
    }
    try {
      List<CurveBlock> blocks = CurveBlock.of(again);
      if (blocks.isEmpty()) {
        return Collections.nCopies(
            3, Estimate.unknown("the other soak has no still half-minutes to show it again"));
      }
      double[] range = CurveBlock.range(blocks);
      int order = BiasModel.orderForSpan(range[1] - range[0]);
      List<Estimate> first = alone(soak, design);
      List<Estimate> second =
          alone(again, CurveDesign.of(blocks, order, BiasCurveFitter.PRIOR_LAG_SD));
      List<Estimate> out = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        out.add(together(first.get(i), second.get(i)));
      }
      return out;
    } catch (IllegalArgumentException notApart) {
      return Collections.nCopies(
          3, Estimate.unknown("the temperatures of the two soaks can't tell it from the curve"));
    }
  }

  private static List<Estimate> alone(StillSoak soak, CurveDesign design) {
    double[] term =
        design.blocks().stream().mapToDouble(b -> Math.exp(-b.sinceBootS() / SETTLES_S)).toArray();
    CurveDesign with = design.and(term);
    List<ColouredRegression> fits = BiasCurveFitter.regressions(with, soak.whiteDps());
    return fits.stream().map(f -> CurveFit.unknown(f, with.moreIndex())).toList();
  }

  /** Weighted mean where both show it, to the same side, and agree within their errors. */
  private static Estimate together(Estimate a, Estimate b) {
    boolean shown = shown(a) && shown(b) && a.value() * b.value() > 0;
    boolean agree = Math.abs(a.value() - b.value()) <= 1.96 * Math.hypot(a.se(), b.se());
    if (!shown || !agree) {
      return Estimate.unknown(
          "not shown by both soaks alike (" + words(a) + " and " + words(b) + " deg/s)");
    }
    double wa = 1 / (a.se() * a.se());
    double wb = 1 / (b.se() * b.se());
    return Estimate.of((wa * a.value() + wb * b.value()) / (wa + wb), 1 / Math.sqrt(wa + wb), 1.96);
  }

  private static boolean shown(Estimate e) {
    return e.low() * e.high() > 0;
  }

  private static String words(Estimate e) {
    return String.format(java.util.Locale.ROOT, "%.4f +- %.4f", e.value(), 1.96 * e.se());
  }
}
