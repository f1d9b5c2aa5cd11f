package soakbench.readiness.estimator;

import java.util.HashMap;
import java.util.Map;

/**
 * How wide the test's intervals will be: the covariances of a filter run ahead along its own mean
 * path, with blocks as good as the newest. They don't depend on what will be read. Filters of one
 * kind of swing share those of the first asked for.
 */
final class Widths {
  /** Step, s, and how many; beyond, nothing gets narrower any more. */
  static final double STEP_S = 40;

  static final int STEPS = 36;

  private final Block block;
  private final double quantile;
  private final Map<Swing, double[][]> known = new HashMap<>();

  Widths(Block block, double quantile) {
    this.block = block;
    this.quantile = quantile;
  }

  /**
   * Half widths at each step: first of the rate, degC/s, then of each axis' shift for each horizon,
   * deg/s.
   */
  double[][] of(Part part) {
    return known.computeIfAbsent(part.member().law().swing(), s -> ahead(part));
  }

  private double[][] ahead(Part from) {
    Part part = from.copy();
    double[][] out = new double[STEPS][];
    int blocks = (int) (STEP_S / Blocks.BLOCK_S);
    for (int i = 0; i < STEPS; i++) {
      out[i] = now(part);
      for (int half = 0; half < 2; half++) {
        part = part.ahead(block, blocks / 2);
      }
    }
    return out;
  }

  private double[] now(Part part) {
    Outlook outlook = Outlook.of(java.util.List.of(part));
    double[] out = new double[1 + 3 * RoomLaw.AHEAD_S.length];
    int k = 0;
    out[k++] = quantile * outlook.rateCPerS().sd()[0];
    for (Spread[] axis : outlook.shiftDps()) {
      for (Spread s : axis) {
        out[k++] = quantile * likeliest(s);
      }
    }
    return out;
  }

  /** Standard deviation of the whole, about each filter's own mean. */
  private static double likeliest(Spread s) {
    double sum = 0;
    double share = 0;
    for (int i = 0; i < s.share().length; i++) {
      sum += s.share()[i] * s.sd()[i] * s.sd()[i];
      share += s.share()[i];
    }
    return Math.sqrt(sum / share);
  }
}
