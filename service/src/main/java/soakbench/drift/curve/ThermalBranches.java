package soakbench.drift.curve;

import java.util.List;
import java.util.function.DoublePredicate;

/**
 * What of a soak's still blocks was warming and what cooling, and which temperatures were seen both
 * ways.
 *
 * @param lowC lowest temperature seen both ways, degC
 * @param highC highest
 */
record ThermalBranches(double lowC, double highC) {
  /** Slower than this is neither, degC/s: 0.05 degC/min. */
  private static final double LEAST_RATE = 0.05 / 60;

  /** Faster than this, lag would be taken for hysteresis, degC/s: 0.5 degC/min. */
  private static final double MOST_RATE = 0.5 / 60;

  private static final double LEAST_OVERLAP_C = 0.5;
  private static final int LEAST_BLOCKS = 3;

  /** Which branch a block is on that sees the temperature change so fast, degC/s. */
  static BiasCurve.Branch of(double rateCPerS) {
    return rateCPerS > LEAST_RATE
        ? BiasCurve.Branch.WARMING
        : rateCPerS < -LEAST_RATE ? BiasCurve.Branch.COOLING : BiasCurve.Branch.STEADY;
  }

  /** Branches of all blocks, however fast. */
  static ThermalBranches of(List<CurveBlock> blocks) {
    return between(blocks, r -> r > LEAST_RATE, r -> r < -LEAST_RATE);
  }

  /** Branches of slow blocks only. */
  static ThermalBranches slow(List<CurveBlock> blocks) {
    return between(
        blocks, r -> r > LEAST_RATE && r < MOST_RATE, r -> r < -LEAST_RATE && r > -MOST_RATE);
  }

  private static ThermalBranches between(
      List<CurveBlock> blocks, DoublePredicate warms, DoublePredicate cools) {
    double[] up = range(blocks, warms);
    double[] down = range(blocks, cools);
    return new ThermalBranches(Math.max(up[0], down[0]), Math.min(up[1], down[1]));
  }

  private static double[] range(List<CurveBlock> blocks, DoublePredicate rate) {
    double[] t =
        blocks.stream()
            .filter(b -> rate.test(b.rateCPerS()))
            .mapToDouble(CurveBlock::temperatureC)
            .sorted()
            .toArray();
    return t.length < LEAST_BLOCKS
        ? new double[] {Double.POSITIVE_INFINITY, Double.NEGATIVE_INFINITY}
        : new double[] {t[0], t[t.length - 1]};
  }

  boolean overlap() {
    return highC - lowC >= LEAST_OVERLAP_C;
  }

  /** Blocks that were slow, on a branch, and at a temperature that was seen both ways. */
  List<CurveBlock> seenBothWays(List<CurveBlock> blocks) {
    return blocks.stream()
        .filter(b -> b.temperatureC() >= lowC && b.temperatureC() <= highC)
        .filter(b -> Math.abs(b.rateCPerS()) > LEAST_RATE && Math.abs(b.rateCPerS()) < MOST_RATE)
        .toList();
  }
}
