package soakbench.drift;

import java.util.ArrayList;
import java.util.List;
import org.hipparchus.distribution.continuous.GammaDistribution;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.numerics.AllanDeviation;
import soakbench.numerics.AllanDeviation.Point;

/**
 * Noise of a soak's still seconds: overlapping Allan deviation at octaves from 1 s, the bias curve
 * taken off first, and N at 1 s where the slope of -1/2 is really there (IEEE Std 952's reading).
 */
public final class NoiseAnalysis {
  private static final String[] AXES = {"x", "y", "z"};
  private static final int LEAST_SECONDS = 64;
  private static final double DEG_PER_SQRT_H = 60;

  private NoiseAnalysis() {}

  public static Noise of(StillSoak soak, BiasCurve curve) {
    List<List<Bin>> pieces = soak.pieces();
    int longest = pieces.stream().mapToInt(List::size).max().orElse(0);
    if (longest < LEAST_SECONDS) {
      return Noise.unknown(
          "needs "
              + LEAST_SECONDS
              + " s of lying still without a gap; the longest was "
              + longest
              + " s");
    }
    List<Noise.Axis> axes = new ArrayList<>();
    for (int axis = 0; axis < 3; axis++) {
      axes.add(axis(pieces, curve, axis));
    }
    return new Noise(soak.sampleRateHz(), axes, null);
  }

  private static Noise.Axis axis(List<List<Bin>> pieces, BiasCurve curve, int axis) {
    List<double[]> rates = pieces.stream().map(p -> withoutCurve(p, curve, axis)).toList();
    List<Point> points = AllanDeviation.overlapping(rates, AllanDeviation.octaves(rates));
    int n = points.size();
    double[][] out = new double[4][n];
    for (int i = 0; i < n; i++) {
      Point p = points.get(i);
      double[] band = band(p);
      out[0][i] = p.factor();
      out[1][i] = p.deviation();
      out[2][i] = band[0];
      out[3][i] = band[1];
    }
    String unresolved = "not resolved in a record this long";
    return new Noise.Axis(
        AXES[axis],
        out[0],
        out[1],
        out[2],
        out[3],
        whiteNoise(points),
        Estimate.unknown(unresolved),
        Estimate.unknown(unresolved));
  }

  private static double[] withoutCurve(List<Bin> piece, BiasCurve curve, int axis) {
    double[] rates = new double[piece.size()];
    for (int i = 0; i < rates.length; i++) {
      Bin bin = piece.get(i);
      rates[i] = bin.gyroDps()[axis].mean();
      if (curve.reason() == null && bin.temperatureC().count() > 0) {
        double u = bin.temperatureC().mean() - curve.referenceC();
        double[] c = curve.axes().get(axis).coefficients();
        for (int k = 1; k < c.length; k++) {
          rates[i] -= c[k] * Math.pow(u, k);
        }
      }
    }
    return rates;
  }

  private static Estimate whiteNoise(List<Point> points) {
    Point one = points.get(0);
    Point four = points.get(Math.min(2, points.size() - 1));
    double slope = Math.log(four.deviation() / one.deviation()) / Math.log(four.factor());
    if (!(one.deviation() > 0)) {
      return Estimate.unknown("the readings do not change: no noise to measure");
    }
    if (slope < -0.75 || slope > -0.25) {
      return Estimate.unknown("no slope of -1/2 at 1 s: the noise there is not white");
    }
    double[] band = band(one);
    double n = one.deviation() * DEG_PER_SQRT_H;
    double low = band[0] * DEG_PER_SQRT_H;
    double high = band[1] * DEG_PER_SQRT_H;
    return Estimate.of(n, (high - low) / (2 * 1.96), low, high);
  }

  /**
   * 95 % limits by chi-square with the equivalent degrees of freedom of white frequency noise, NIST
   * SP 1065 table 5 (overlapping, from memory): (3(N-1)/(2m) - 2(N-2)/N) 4m^2/(4m^2+5), N phase
   * points.
   */
  static double[] band(Point p) {
    double m = p.factor();
    double n = p.terms() + 2 * m;
    double edf = (3 * (n - 1) / (2 * m) - 2 * (n - 2) / n) * 4 * m * m / (4 * m * m + 5);
    double df = Math.max(1, edf);
    GammaDistribution chiSquare = new GammaDistribution(df / 2, 2);
    return new double[] {
      p.deviation() * Math.sqrt(df / chiSquare.inverseCumulativeProbability(0.975)),
      p.deviation() * Math.sqrt(df / chiSquare.inverseCumulativeProbability(0.025))
    };
  }
}
