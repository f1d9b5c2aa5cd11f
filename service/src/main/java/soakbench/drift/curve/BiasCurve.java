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
      Powers powers = new Powers(0, new double[0], new double[0][]);
      Figures figures = new Figures(none, none, none, none, none, null);
      return new Axis(axis, powers, figures, List.of(), List.of(), null, reason);
    }
  }

  /**
   * A curve as a polynomial.
   *
   * @param order highest power; 0 where the axis has no curve
   * @param coefficients ascending powers of (T - reference), deg/s per degC^k, the first in the
   *     newest pose
   * @param covariance of the coefficients
   */
  public record Powers(int order, double[] coefficients, double[][] covariance) {}

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
   */
  public record Point(
      double temperatureC,
      double biasDps,
      double confidenceLowDps,
      double confidenceHighDps,
      double predictionLowDps,
      double predictionHighDps,
      boolean extrapolated) {}

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
