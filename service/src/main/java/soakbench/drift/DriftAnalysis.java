package soakbench.drift;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.hipparchus.distribution.continuous.TDistribution;
import soakbench.model.Estimate;

/** Bias curve and heading of a whole soak. */
public final class DriftAnalysis {
  private static final String[] AXES = {"x", "y", "z"};
  private static final double LEAST_SPAN_C = 0.5;

  private DriftAnalysis() {}

  /**
   * The bias curve.
   *
   * @param soak the soak's still seconds
   * @param useC temperature in use, degC
   */
  public static BiasCurve biasCurve(StillSoak soak, double useC) {
    List<BiasBlock> blocks = BlockMerge.merged(soak.blocks());
    if (blocks.isEmpty()) {
      return BiasCurve.unknown("no curve: never still for 30 s with a temperature");
    }
    double low = blocks.stream().mapToDouble(BiasBlock::temperatureC).min().orElseThrow();
    double high = blocks.stream().mapToDouble(BiasBlock::temperatureC).max().orElseThrow();
    if (high - low < LEAST_SPAN_C) {
      return BiasCurve.unknown(
          high == low
              ? "no curve: the temperature did not change"
              : String.format(
                  Locale.ROOT,
                  "no curve: still readings cover only %.2f degC, at least %.1f are needed",
                  high - low,
                  LEAST_SPAN_C));
    }
    int order = BiasModel.orderForSpan(high - low);
    long poses = blocks.stream().mapToInt(BiasBlock::segment).distinct().count();
    if (blocks.size() < poses + order + 3) {
      return BiasCurve.unknown(
          "no curve yet: "
              + blocks.size()
              + " still half-minutes are too few for "
              + poses
              + (poses == 1 ? " pose" : " poses"));
    }
    try {
      return fitted(soak, blocks, order, low, high, useC, blocks.size() - (int) poses - order);
    } catch (IllegalArgumentException notApart) {
      return BiasCurve.unknown(
          "no curve: the temperatures at which it lay still are too few to tell "
              + order
              + " powers apart");
    }
  }

  private static BiasCurve fitted(
      StillSoak soak,
      List<BiasBlock> blocks,
      int order,
      double low,
      double high,
      double useC,
      int degreesOfFreedom) {
    double operating = Math.max(low, Math.min(high, useC));
    List<BiasCurve.Axis> axes = new ArrayList<>();
    for (int axis = 0; axis < 3; axis++) {
      BiasModel m =
          BiasModel.of(blocks, axis, order, operating, soak.whiteDps()[axis], Double.NaN, null);
      axes.add(axis(AXES[axis], m, low, high, degreesOfFreedom));
    }
    return new BiasCurve(operating, operating, new double[] {low, high}, axes, null);
  }

  private static BiasCurve.Axis axis(String name, BiasModel m, double low, double high, int df) {
    double q = new TDistribution(Math.max(1, df)).inverseCumulativeProbability(0.975);
    double[] slope = m.slopeAt(m.referenceC());
    int order = m.slopeCoefficients().length;
    double[] coefficients = new double[order + 1];
    double[][] covariance = new double[order + 1][order + 1];
    coefficients[0] = m.offsetDps();
    covariance[0][0] = m.offsetSeDps() * m.offsetSeDps();
    for (int i = 0; i < order; i++) {
      coefficients[i + 1] = m.slopeCoefficients()[i];
      covariance[0][i + 1] = m.offsetCovariance()[i];
      covariance[i + 1][0] = m.offsetCovariance()[i];
      System.arraycopy(m.covariance()[i], 0, covariance[i + 1], 1, order);
    }
    return new BiasCurve.Axis(
        name,
        order,
        coefficients,
        covariance,
        Estimate.of(slope[0], slope[1], q),
        span(m, low, high, q),
        Estimate.unknown("needs the same temperatures seen both ways, warming and cooling"),
        Estimate.unknown("one smooth warm-up can't tell it from the coefficient"),
        m.residualSdDps());
  }

  private static Estimate span(BiasModel m, double low, double high, double q) {
    double least = low;
    double most = low;
    for (int i = 1; i <= 50; i++) {
      double t = low + (high - low) * i / 50;
      least = m.difference(least, t)[0] < 0 ? t : least;
      most = m.difference(most, t)[0] > 0 ? t : most;
    }
    double[] d = m.difference(least, most);
    return Estimate.of(d[0], d[1], Math.max(0, d[0] - q * d[1]), d[0] + q * d[1]);
  }

  /**
   * What a calibration at the newest temperature would cost at the use temperature.
   *
   * @param calibratedC temperature of the calibration, degC; NaN where none is known
   */
  public static Heading heading(BiasCurve curve, double calibratedC, double useC) {
    if (curve.reason() != null || Double.isNaN(calibratedC)) {
      Estimate none =
          Estimate.unknown(curve.reason() != null ? curve.reason() : "no temperature known");
      return new Heading(null, useC, none, none);
    }
    double[] range = curve.rangeC();
    if (useC < range[0] - 0.5 || useC > range[1] + 0.5) {
      Estimate none =
          Estimate.unknown(
              String.format(
                  Locale.ROOT,
                  "the use temperature %.1f degC is outside the %.1f to %.1f degC that were seen",
                  useC,
                  range[0],
                  range[1]));
      return new Heading(calibratedC, useC, none, none);
    }
    Estimate worst = null;
    for (BiasCurve.Axis axis : curve.axes()) {
      Estimate e = degPerMin(axis, curve.referenceC(), calibratedC, useC);
      if (worst == null || Math.abs(e.value()) > Math.abs(worst.value())) {
        worst = e;
      }
    }
    return new Heading(calibratedC, useC, worst, minutesTo5Deg(worst));
  }

  private static Estimate degPerMin(BiasCurve.Axis axis, double refC, double fromC, double toC) {
    double a = fromC - refC;
    double b = toC - refC;
    double mean = 0;
    double variance = 0;
    for (int i = 1; i <= axis.order(); i++) {
      double gi = Math.pow(b, i) - Math.pow(a, i);
      mean += gi * axis.coefficients()[i];
      for (int j = 1; j <= axis.order(); j++) {
        variance += gi * axis.covariance()[i][j] * (Math.pow(b, j) - Math.pow(a, j));
      }
    }
    return Estimate.of(60 * mean, 60 * Math.sqrt(Math.max(0, variance)), 1.96);
  }

  private static Estimate minutesTo5Deg(Estimate rate) {
    double least =
        rate.low() * rate.high() <= 0 ? 0 : Math.min(Math.abs(rate.low()), Math.abs(rate.high()));
    double most = Math.max(Math.abs(rate.low()), Math.abs(rate.high()));
    if (least == 0) {
      return Estimate.unknown(
          String.format(
              Locale.ROOT,
              "the rate's interval includes zero: at least %.0f min",
              most == 0 ? Double.POSITIVE_INFINITY : 5 / most));
    }
    return new Estimate(5 / Math.abs(rate.value()), null, 5 / most, 5 / least, null);
  }
}
