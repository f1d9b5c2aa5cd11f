package soakbench.readiness.estimator;

/**
 * What one filter, or one axis' filters together, know of an axis' curve about the reference
 * temperature: means of slope, bend and settling, and their covariances. Several sizes of flicker
 * are taken together, mean and covariance of their mixture.
 */
final class AxisCurve {
  private static final int[] ENTRIES = {Axis.SLOPE, Axis.BEND, Axis.SETTLING};
  private static final int SIZE = ENTRIES.length;

  private final double[] mean = new double[SIZE];
  private final double[] cov = new double[SIZE * SIZE];

  private AxisCurve() {}

  static AxisCurve of(WeighedFilter part, int axis) {
    AxisCurve out = new AxisCurve();
    int at = part.at(axis);
    for (int f = 0; f < part.flickers(); f++) {
      out.add(part.axis(axis, f), at, part.flickerShare(axis, f));
    }
    for (int i = 0; i < SIZE; i++) {
      for (int j = 0; j < SIZE; j++) {
        out.cov[i * SIZE + j] -= out.mean[i] * out.mean[j];
      }
    }
    return out;
  }

  private void add(Belief b, int at, double share) {
    for (int i = 0; i < SIZE; i++) {
      double m = b.mean(at + ENTRIES[i]);
      mean[i] += share * m;
      for (int j = 0; j < SIZE; j++) {
        double both = b.cov(at + ENTRIES[i], at + ENTRIES[j]) + m * b.mean(at + ENTRIES[j]);
        cov[i * SIZE + j] += share * both;
      }
    }
  }

  /**
   * The shift of bias, deg/s.
   *
   * @param x temperature now less the reference, degC
   * @param changeC what the temperature changes by, degC
   * @param settled share of the settling that goes, negative
   */
  double mean(double x, double changeC, double settled) {
    return mean[0] * changeC + mean[1] * changeC * (x + changeC / 2) + mean[2] * settled;
  }

  /**
   * Its variance, (deg/s)^2: of the curve, of the change, and of their product.
   *
   * @param changeVariance of the change, degC^2
   * @param cross covariance of the change with the slope; 0 where they are filtered apart
   */
  double variance(double x, double changeC, double settled, double changeVariance, double cross) {
    double bent = changeC * (x + changeC / 2);
    double sum =
        changeC * changeC * cov[0]
            + changeC * bent * cov[1]
            + changeC * settled * cov[2]
            + bent * changeC * cov[3]
            + bent * bent * cov[4]
            + bent * settled * cov[5]
            + settled * changeC * cov[6]
            + settled * bent * cov[7]
            + settled * settled * cov[8];
    double steep = mean[0] + mean[1] * (x + changeC);
    return sum + (steep * steep + cov[0]) * changeVariance + 2 * steep * changeC * cross;
  }
}
