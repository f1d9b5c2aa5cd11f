package soakbench.lots;

import java.util.Arrays;
import java.util.List;
import soakbench.drift.curve.RepeatedErrors;
import soakbench.model.Estimate;
import soakbench.model.Soak;

/** Soaks of an invented unit. */
final class UnitFixtures {
  private static final Estimate NONE = Estimate.unknown("not looked at");

  private UnitFixtures() {}

  static UnitSoak soak(int day, double operatingC, double lowC, double highC, AxisFigures... axes) {
    return soak(day, operatingC, lowC, highC, null, axes);
  }

  static UnitSoak soak(
      int day, double operatingC, double lowC, double highC, double[] restingG, AxisFigures... a) {
    return new UnitSoak(
        row(day),
        new SoakFigures(
            operatingC,
            lowC,
            highC,
            31,
            NONE,
            Estimate.of(400 + day, 10, 1.96),
            false,
            50.0,
            List.of(a),
            NONE,
            NONE,
            restingG),
        null);
  }

  static Soak row(int day) {
    long startUs = day * 86_400_000_000L;
    return new Soak(
        "KITE-1@" + day, "KITE-1", startUs, startUs + 1_800_000_000L, 9000, Soak.End.TAKEN_OFF);
  }

  /** An axis with this bias and these coefficients of (T - operating), each with this error. */
  static AxisFigures axis(String name, double se, double... coefficients) {
    double[] none = new double[coefficients.length + 1];
    return axis(name, se, new RepeatedErrors(none, none), coefficients);
  }

  /** The same of an axis that repeats errors. */
  static AxisFigures axis(String name, double se, RepeatedErrors repeated, double... coefficients) {
    double[] withLeftOut = Arrays.copyOf(coefficients, coefficients.length + 1);
    double[][] covariance = new double[withLeftOut.length][withLeftOut.length];
    for (int i = 0; i < withLeftOut.length; i++) {
      covariance[i][i] = i < coefficients.length ? se * se : 0;
      for (int j = 0; j < withLeftOut.length; j++) {
        covariance[i][j] +=
            repeated.lag()[i] * repeated.lag()[j]
                + repeated.powerLeftOut()[i] * repeated.powerLeftOut()[j];
      }
    }
    return new AxisFigures(
        name,
        Estimate.of(coefficients[0], se, 1.96),
        Estimate.of(coefficients[1], Math.sqrt(covariance[1][1]), 1.96),
        NONE,
        NONE,
        0.002,
        Estimate.of(0.3, 0.01, 1.96),
        NONE,
        NONE,
        withLeftOut,
        covariance,
        1.96,
        repeated);
  }
}
