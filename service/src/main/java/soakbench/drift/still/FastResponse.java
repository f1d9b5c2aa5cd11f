package soakbench.drift.still;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.List;
import soakbench.numerics.ColouredNoise;
import soakbench.numerics.GeneralizedFit;

/**
 * What a fast fall of the temperature does to a bias beside the bias curve. The thermometer and
 * what senses the rate lie apart on the chip, so one runs ahead of the other (lag); a curve seen in
 * slow warming does not show it. And the fall itself measures the curve's slope.
 *
 * @param slopeDpsPerC beside the curve, for each degC fallen, deg/s
 * @param lagDpsPerCPerS deg/s for each degC/s
 * @param slopeVariance of the first
 * @param lagVariance of the second
 * @param covariance of the two
 * @param curveSlopeSe standard error of the curve's slope, which is in the first variance already
 */
public record FastResponse(
    double slopeDpsPerC,
    double lagDpsPerCPerS,
    double slopeVariance,
    double lagVariance,
    double covariance,
    double curveSlopeSe)
    implements Serializable {

  /**
   * A coefficient of some 0.03 deg/s per degC, some five seconds apart (common practice, no
   * source).
   */
  private static final double PRIOR_LAG_SD = 0.15;

  /** Of a unit that was not seen in a fast fall. */
  public static final FastResponse PRIOR =
      new FastResponse(0, 0, 0, PRIOR_LAG_SD * PRIOR_LAG_SD, 0, 0);

  /** Seconds are joined so many at a time. */
  private static final int JOINED = 5;

  /** The curve's own slope is not taken to be known better than this, deg/s per degC. */
  private static final double LEAST_SLOPE_SE = 0.002;

  /**
   * One second of a fall.
   *
   * @param tS its middle, s, rising
   * @param dropC how far the temperature has fallen, degC
   * @param rateCPerS how fast it changes, degC/s; below 0 while it falls
   * @param biasDps of one axis, deg/s
   */
  public record Second(double tS, double dropC, double rateCPerS, double biasDps) {}

  /**
   * Reads it off one axis in a fall: by generalized least squares over level, drop and rate, with
   * the curve's slope and {@link #PRIOR} as observations of their own.
   *
   * @param seconds before and during the fall
   * @param fromC temperature before it, degC
   */
  public static FastResponse of(List<Second> seconds, double fromC, BiasModel curve) {
    List<double[]> rows = new ArrayList<>();
    for (int i = 0; i + JOINED <= seconds.size(); i += JOINED) {
      List<Second> some = seconds.subList(i, i + JOINED);
      if (some.get(JOINED - 1).tS() - some.get(0).tS() < 2 * JOINED) {
        rows.add(row(some, fromC, curve));
      }
    }
    if (rows.size() < 6) {
      return PRIOR;
    }
    int n = rows.size();
    double[][] design = new double[n + 2][];
    double[] y = new double[n + 2];
    for (int i = 0; i < n; i++) {
      design[i] = new double[] {1, rows.get(i)[1], rows.get(i)[2]};
      y[i] = rows.get(i)[3];
    }
    design[n] = new double[] {0, 1, 0};
    design[n + 1] = new double[] {0, 0, 1};
    double slopeSe = Math.max(LEAST_SLOPE_SE, curve.slopeAt(fromC).se());
    GeneralizedFit fit = GeneralizedFit.of(design, y, noise(rows, curve, slopeSe));
    double scale = Math.max(1, fit.weightedRss() / fit.degreesOfFreedom());
    double[][] v = fit.covariance();
    return new FastResponse(
        fit.coefficients()[1],
        fit.coefficients()[2],
        scale * v[1][1],
        scale * v[2][2],
        scale * v[1][2],
        slopeSe);
  }

  /**
   * What it adds to the change by the curve, deg/s.
   *
   * @param dropC how far the temperature has fallen, degC
   * @param rateCPerS how fast it changes, degC/s; below 0 while it falls
   */
  public double addedDps(double dropC, double rateCPerS) {
    return slopeDpsPerC * dropC + lagDpsPerCPerS * rateCPerS;
  }

  /**
   * Variance of that change with what is added, (deg/s)^2.
   *
   * @param dropC as above
   * @param rateCPerS as above
   * @param curveVariance of the curve's own change over that drop
   */
  public double variance(double dropC, double rateCPerS, double curveVariance) {
    double own =
        slopeVariance * dropC * dropC
            + lagVariance * rateCPerS * rateCPerS
            + 2 * covariance * dropC * rateCPerS;
    double counted = Math.pow(curveSlopeSe * dropC, 2);
    return own + Math.max(0, curveVariance - counted);
  }

  /** Time, drop, rate, and what the curve leaves of the bias. */
  private static double[] row(List<Second> some, double fromC, BiasModel curve) {
    double[] mean = new double[4];
    for (Second s : some) {
      double curved = curve.difference(fromC, fromC - s.dropC).value();
      double[] of = {s.tS, s.dropC, s.rateCPerS, s.biasDps - curved};
      for (int k = 0; k < mean.length; k++) {
        mean[k] += of[k] / some.size();
      }
    }
    return mean;
  }

  private static double[][] noise(List<double[]> rows, BiasModel curve, double slopeSe) {
    int n = rows.size();
    double[] mid = rows.stream().mapToDouble(r -> r[0]).toArray();
    double[] width = rows.stream().mapToDouble(r -> JOINED).toArray();
    double white = Math.max(curve.whiteDps(), 1e-6);
    double[][] v = ColouredNoise.covariance(mid, width, white, curve.flickerDps());
    double[][] all = new double[n + 2][n + 2];
    for (int i = 0; i < n; i++) {
      System.arraycopy(v[i], 0, all[i], 0, n);
    }
    all[n][n] = slopeSe * slopeSe;
    all[n + 1][n + 1] = PRIOR.lagVariance;
    return all;
  }
}
