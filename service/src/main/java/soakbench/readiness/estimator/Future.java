package soakbench.readiness.estimator;

import java.util.List;

/**
 * What one filter will know, step by step, with blocks as good as the newest: that does not depend
 * on what will be read. Its means will wander by the gains, driven by innovations that nobody can
 * know yet but whose size is known.
 *
 * @param half half widths of the test's intervals at each step: of the rate, degC/s, then of each
 *     axis' shift for each horizon, deg/s
 * @param gains by how much each entry of the whole state moves in each step for an innovation of
 *     one standard deviation: of the temperature, then of the rates x, y, z
 * @param moved by how much the reference of the curves moves in each step, degC
 */
record Future(double[][] half, double[][][] gains, double[] moved) {
  /** Beyond so many steps nothing gets narrower any more. */
  private static final int STEPS = 60;

  private static final int EVERY = 3;

  /** Runs a filter ahead along its own mean path. */
  static Future of(Part from, Block like, double quantile) {
    Part part = from.copy();
    double[][] half = new double[STEPS][];
    double[][][] gains = new double[STEPS][4][];
    double[] moved = new double[STEPS];
    for (int i = 0; i < STEPS; i++) {
      half[i] = i % EVERY == 0 || i < EVERY ? widths(part, quantile) : half[i - 1];
      double before = part.referenceC();
      part = part.ahead(like, (int) (Forecast.STEP_S / Blocks.BLOCK_S), gains[i]);
      moved[i] = part.referenceC() - before;
    }
    return new Future(half, gains, moved);
  }

  int last() {
    return STEPS - 1;
  }

  private static double[] widths(Part part, double quantile) {
    Outlook outlook = Outlook.of(List.of(part));
    double[] out = new double[1 + 3 * RoomLaw.AHEAD_S.length];
    int k = 0;
    out[k++] = quantile * outlook.rateCPerS().sd()[0];
    for (Spread[] axis : outlook.shiftDps()) {
      for (Spread s : axis) {
        out[k++] = quantile * pooled(s);
      }
    }
    return out;
  }

  /** Standard deviation about each filter's own mean. */
  private static double pooled(Spread s) {
    double sum = 0;
    double share = 0;
    for (int i = 0; i < s.share().length; i++) {
      sum += s.share()[i] * s.sd()[i] * s.sd()[i];
      share += s.share()[i];
    }
    return Math.sqrt(sum / share);
  }
}
