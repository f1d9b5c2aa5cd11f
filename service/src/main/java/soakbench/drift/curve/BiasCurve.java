package soakbench.drift.curve;

import java.util.List;
import soakbench.model.Estimate;

/**
 * Bias against temperature of one soak.
 *
 * @param temperatures what it covers; all null without a curve
 * @param basis what the fit rests on; all null without a curve
 * @param axes x, y, z
 * @param note what to know when using it, or null
 * @param reason why there is no curve; null where there is one
 */
public record BiasCurve(
    Temperatures temperatures, Basis basis, List<Axis> axes, String note, String reason) {

  /**
   * Where it holds.
   *
   * @param referenceC powers are taken about this temperature, degC
   * @param operatingC temperature at which the coefficient is given, degC: the use temperature, or
   *     the end of the covered range that is nearest to it
   * @param rangeC lowest and highest temperature covered, degC
   */
  public record Temperatures(Double referenceC, Double operatingC, double[] rangeC) {}

  /**
   * What the fit rests on.
   *
   * @param blocks still half-minutes (of a long soak: joined ones)
   * @param droppedBlocks those that did not belong and were left out
   * @param lagCondition condition number of the curve's columns and the lag's together; null where
   *     it is not asked
   */
  public record Basis(Integer blocks, Integer droppedBlocks, Double lagCondition) {}

  /**
   * One axis.
   *
   * @param axis x, y or z
   * @param powers the curve itself
   * @param figures what is read off it and beside it
   * @param bands the curve with its bands, by temperature
   * @param measured the blocks that the fit rests on, by time
   * @param interpolationErrorDps greatest error of going straight between so many values over the
   *     covered range, deg/s; null without a curve
   * @param reason why the axis has no curve; null where it has one
   */
  public record Axis(
      String axis,
      Powers powers,
      Figures figures,
      List<Point> bands,
      List<Measured> measured,
      Double interpolationErrorDps,
      String reason) {

    /** An axis without a curve, and why. */
    public static Axis unknown(String axis, String reason) {
      Estimate none = Estimate.unknown(reason);
      Figures figures = new Figures(none, none, none, none, none, null);
      return new Axis(axis, Powers.NONE, figures, List.of(), List.of(), null, reason);
    }
  }

  /**
   * A curve as a polynomial.
   *
   * @param order highest power fitted; 0 where the axis has no curve
   * @param coefficients ascending powers of (T - reference), deg/s per degC^k, the first in the
   *     newest pose. The last, zero, is the power that is left out: the span can't show it, but
   *     what is believed of it is part of every error
   * @param covariance of all of them; the bands are made of it
   * @param limitsSe half a 95 % interval of anything read off the curve, in standard errors
   * @param repeated what of the errors is the same in every soak of the unit
   */
  public record Powers(
      int order,
      double[] coefficients,
      double[][] covariance,
      double limitsSe,
      RepeatedErrors repeated) {

    static final Powers NONE =
        new Powers(
            0, new double[0], new double[0][], 0, new RepeatedErrors(new double[0], new double[0]));

    /**
     * Weights of the coefficients in the bias, or in its first derivative.
     *
     * @param u temperature minus reference, degC
     * @param derivative 0 or 1
     */
    public double[] weights(double u, int derivative) {
      double[] g = new double[coefficients.length];
      for (int k = derivative; k < g.length; k++) {
        g[k] = (derivative == 0 ? 1 : k) * Math.pow(u, k - derivative);
      }
      return g;
    }

    /** A linear combination of the coefficients. */
    public double value(double[] g) {
      return dot(coefficients, g);
    }

    /** Its variance. */
    public double variance(double[] g) {
      double sum = 0;
      for (int i = 0; i < g.length; i++) {
        sum += g[i] * dot(covariance[i], g);
      }
      return Math.max(0, sum);
    }

    /** It with its 95 % interval. */
    public Estimate estimate(double[] g) {
      return Estimate.of(value(g), Math.sqrt(variance(g)), limitsSe);
    }

    private static double dot(double[] a, double[] b) {
      double sum = 0;
      for (int i = 0; i < a.length; i++) {
        sum += a[i] * b[i];
      }
      return sum;
    }
  }

  /**
   * What a curve comes to.
   *
   * @param tempcoDpsPerC slope at the operating temperature, deg/s per degC
   * @param spanDps greatest minus least bias of the curve over the covered range, deg/s
   * @param hysteresisDps warming minus cooling at one temperature, deg/s
   * @param lagDpsPerCPerS what a change of temperature adds, deg/s for each degC/s
   * @param settlingDps what is added at power-on and dies away within minutes, deg/s
   * @param residualSdDps standard deviation of the blocks about the curve, deg/s; null without one
   */
  public record Figures(
      Estimate tempcoDpsPerC,
      Estimate spanDps,
      Estimate hysteresisDps,
      Estimate lagDpsPerCPerS,
      Estimate settlingDps,
      Double residualSdDps) {}

  /**
   * The curve at one temperature, in the newest pose.
   *
   * @param temperatureC degC
   * @param biasDps deg/s
   * @param confidenceLowDps lower 95 % limit of the curve
   * @param confidenceHighDps its upper one
   * @param predictionLowDps lower 95 % limit of what half a minute's mean would read
   * @param predictionHighDps its upper one
   * @param extrapolated whether the temperature is outside what was covered
   * @param standardErrorDps of the curve, deg/s: the limits are {@code limitsSe} times as far off
   */
  public record Point(
      double temperatureC,
      double biasDps,
      double confidenceLowDps,
      double confidenceHighDps,
      double predictionLowDps,
      double predictionHighDps,
      boolean extrapolated,
      double standardErrorDps) {}

  /**
   * One still block as it was measured, the offset of its pose against the newest one taken off.
   *
   * @param sinceStartS its middle, s since the soak's first bin
   * @param temperatureC degC
   * @param biasDps deg/s
   * @param branch whether it was read while warming or cooling
   */
  public record Measured(double sinceStartS, double temperatureC, double biasDps, Branch branch) {}

  /** Which way the temperature went. */
  public enum Branch {
    WARMING,
    COOLING,
    /** Slower than 0.05 degC/min. */
    STEADY
  }

  public static BiasCurve unknown(String reason) {
    return new BiasCurve(
        new Temperatures(null, null, null), new Basis(null, null, null), List.of(), null, reason);
  }
}
