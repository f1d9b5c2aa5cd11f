package soakbench.drift.curve;

import java.util.ArrayList;
import java.util.List;
import soakbench.model.Estimate;

/**
 * What is read off the curve of one axis. All of it is of the one covariance that is published with
 * the coefficients.
 *
 * @param powers the curve
 * @param referenceC temperature that its powers are about, degC
 * @param rangeC lowest and highest temperature covered, degC
 * @param residualSdDps standard deviation of half a minute's mean about it, deg/s
 */
public record CurveReading(
    BiasCurve.Powers powers, double referenceC, double[] rangeC, double residualSdDps) {
  private static final int SPAN_POINTS = 50;

  /** The slope at a temperature, deg/s per degC. */
  public Estimate tempcoDpsPerC(double temperatureC) {
    return powers.estimate(powers.weights(temperatureC - referenceC, 1));
  }

  /** Greatest minus least bias over the covered range, deg/s. */
  public Estimate spanDps() {
    double leastC = rangeC[0];
    double mostC = rangeC[0];
    for (int i = 1; i <= SPAN_POINTS; i++) {
      double t = rangeC[0] + (rangeC[1] - rangeC[0]) * i / SPAN_POINTS;
      leastC = powers.value(rise(leastC, t)) < 0 ? t : leastC;
      mostC = powers.value(rise(mostC, t)) > 0 ? t : mostC;
    }
    Estimate e = powers.estimate(rise(leastC, mostC));
    return Estimate.of(e.value(), e.se(), Math.max(0, e.low()), e.high());
  }

  private double[] rise(double fromC, double toC) {
    double[] g = powers.weights(toC - referenceC, 0);
    double[] from = powers.weights(fromC - referenceC, 0);
    for (int k = 0; k < g.length; k++) {
      g[k] -= from[k];
    }
    return g;
  }

  /**
   * The curve with its bands, evenly spaced.
   *
   * @param points at least 2
   */
  public List<BiasCurve.Point> bands(double fromC, double toC, int points) {
    List<BiasCurve.Point> out = new ArrayList<>();
    for (int i = 0; i < points; i++) {
      double t = fromC + (toC - fromC) * i / (points - 1);
      out.add(point(i == points - 1 ? toC : t));
    }
    return out;
  }

  private BiasCurve.Point point(double t) {
    double[] g = powers.weights(t - referenceC, 0);
    double value = powers.value(g);
    double se = Math.sqrt(powers.variance(g));
    double half = powers.limitsSe() * se;
    double reading = powers.limitsSe() * Math.hypot(se, residualSdDps);
    boolean outside = t < rangeC[0] || t > rangeC[1];
    return new BiasCurve.Point(
        t, value, value - half, value + half, value - reading, value + reading, outside, se);
  }
}
