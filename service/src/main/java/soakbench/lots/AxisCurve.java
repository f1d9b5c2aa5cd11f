package soakbench.lots;

import java.util.List;
import soakbench.drift.curve.BiasCurve.Powers;
import soakbench.lots.Part.Repeated;

/**
 * One axis's bias curve of one soak, at any temperature.
 *
 * @param referenceC powers are taken about this temperature, degC
 * @param powers the curve; null without one
 * @param reason why there is no curve; null where there is one
 */
record AxisCurve(double referenceC, Powers powers, String reason) {
  static final String LAG = "lag";

  /** The error of a power of the temperature that a curve leaves out. */
  static String leftOutPower(int power) {
    return "power " + power;
  }

  static AxisCurve of(double referenceC, AxisFigures figures) {
    Powers powers = figures.powers();
    return new AxisCurve(
        referenceC, powers, powers == null ? figures.tempcoDpsPerC().reason() : null);
  }

  boolean known() {
    return powers != null;
  }

  /** Bias at a temperature, deg/s. */
  Part biasDps(double temperatureC) {
    return part(weights(temperatureC, 0));
  }

  /** How much the bias rises from one temperature to another, deg/s. */
  Part riseDps(double fromC, double toC) {
    double[] g = weights(toC, 0);
    double[] from = weights(fromC, 0);
    for (int k = 0; k < g.length; k++) {
      g[k] -= from[k];
    }
    return part(g);
  }

  /** Slope at a temperature, deg/s per degC. */
  Part tempcoDpsPerC(double temperatureC) {
    return part(weights(temperatureC, 1));
  }

  private double[] weights(double temperatureC, int derivative) {
    return powers.weights(temperatureC - referenceC, derivative);
  }

  private Part part(double[] g) {
    List<Repeated> repeated =
        List.of(
            new Repeated(LAG, dot(powers.repeated().lag(), g)),
            new Repeated(
                leftOutPower(powers.order() + 1), dot(powers.repeated().powerLeftOut(), g)));
    return Part.of(powers.value(g), powers.variance(g), powers.limitsSe(), repeated);
  }

  private static double dot(double[] a, double[] b) {
    double sum = 0;
    for (int i = 0; i < a.length; i++) {
      sum += a[i] * b[i];
    }
    return sum;
  }
}
