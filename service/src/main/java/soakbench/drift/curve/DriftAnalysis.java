package soakbench.drift.curve;

import java.util.List;
import java.util.Locale;
import soakbench.drift.still.BiasModel;
import soakbench.drift.still.TemperatureCourse;

/** Bias curve of a whole soak. */
public final class DriftAnalysis {
  private static final double LEAST_SPAN_C = 0.5;
  private static final int SPARE_BLOCKS = 3;

  /** A temperature is held for so long, s. */
  private static final int TEMPERATURE_EVERY_S = 30;

  private DriftAnalysis() {}

  /**
   * The bias curve.
   *
   * @param soak the soak's still seconds
   * @param ask what is asked of it
   * @param breaksS when the surroundings changed, s since the soak began
   */
  public static BiasAnalysis biasCurve(StillSoak soak, CurveAsk ask, double[] breaksS) {
    if (soak.blocks().isEmpty()) {
      return BiasAnalysis.unknown("no curve: " + soak.whyNoBlocks());
    }
    List<CurveBlock> blocks = CurveBlock.of(soak);
    String reason = tooLittle(soak, blocks);
    if (reason != null) {
      return BiasAnalysis.unknown(reason);
    }
    double[] range = CurveBlock.range(blocks);
    int order = ask.order() != null ? ask.order() : BiasModel.orderForSpan(range[1] - range[0]);
    long poses = blocks.stream().mapToInt(CurveBlock::segment).distinct().count();
    if (blocks.size() < poses + order + SPARE_BLOCKS) {
      return BiasAnalysis.unknown(tooFew(blocks.size(), poses, order));
    }
    try {
      return CurveReport.of(soak, ask, blocks, order, breaksS);
    } catch (IllegalArgumentException notApart) {
      return BiasAnalysis.unknown(
          "no curve: the temperatures at which it lay still are too few to tell "
              + order
              + (order == 1 ? " power" : " powers")
              + " of the temperature from the offsets of its poses");
    }
  }

  private static String tooLittle(StillSoak soak, List<CurveBlock> blocks) {
    if (blocks.isEmpty()) {
      double everyS = soak.course().spacingS();
      if (!soak.course().coarse() && everyS > TemperatureCourse.HELD_S) {
        return String.format(
            Locale.ROOT,
            "no curve: its temperature comes only every %.0f s; one every %d s or sooner is needed",
            everyS,
            TEMPERATURE_EVERY_S);
      }
      return soak.course().coarse()
          ? "no curve: the thermometer's steps are too coarse for the little that it warmed"
          : "no curve yet: never still for a minute in one pose with a temperature";
    }
    double[] range = CurveBlock.range(blocks);
    double spanC = range[1] - range[0];
    if (spanC >= LEAST_SPAN_C) {
      return null;
    }
    return spanC == 0
        ? "no curve: the temperature did not change"
        : String.format(
            Locale.ROOT,
            "no curve: still readings cover only %.2f degC, at least %.1f are needed",
            spanC,
            LEAST_SPAN_C);
  }

  private static String tooFew(int blocks, long poses, int order) {
    return String.format(
        Locale.ROOT,
        "no curve yet: %d still half-minutes are too few for %d %s and order %d; at least %d are"
            + " needed",
        blocks,
        poses,
        poses == 1 ? "pose" : "poses",
        order,
        poses + order + SPARE_BLOCKS);
  }
}
