package soakbench.lots;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.hipparchus.distribution.continuous.ChiSquaredDistribution;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.RealMatrix;
import soakbench.model.Estimate;
import soakbench.numerics.PolynomialFit;
import soakbench.numerics.PolynomialFit.Scale;

/**
 * How far two soaks' bias curves differ in shape over the temperatures that both covered. The
 * offset between them is left out: it is what a power-up and a pose bring, and has its own figure.
 *
 * @param soak the earlier soak that the newest is compared with
 * @param lowC from here, degC; null where the soaks share no range
 * @param highC to here, degC
 * @param axesDps the greatest difference from the middle of the range on, deg/s, x y z. Its limits
 *     hold for all temperatures of the range at once (Scheffe, 1953, Biometrika 40, 87 to 104), so
 *     where they leave out zero the shapes differ
 */
public record CurveDifference(String soak, Double lowC, Double highC, List<Estimate> axesDps) {
  private static final double LEAST_SHARED_C = 0.5;
  private static final int STEPS = 40;

  /** The newest bias curve against each earlier one; none where there is no earlier soak. */
  public static List<CurveDifference> each(List<UnitSoak> newestFirst) {
    return newestFirst.stream().skip(1).map(earlier -> of(newestFirst.get(0), earlier)).toList();
  }

  /** Compares the newest curve with an earlier one. */
  static CurveDifference of(UnitSoak newest, UnitSoak earlier) {
    SoakFigures a = newest.figures();
    SoakFigures b = earlier.figures();
    if (a.operatingC() == null || b.operatingC() == null) {
      return none(earlier, "one of the soaks has no curve");
    }
    double lowC = Math.max(a.lowC(), b.lowC());
    double highC = Math.min(a.highC(), b.highC());
    if (highC - lowC < LEAST_SHARED_C) {
      return none(
          earlier,
          String.format(
              Locale.ROOT,
              "the soaks share no %.1f degC: %.1f to %.1f and %.1f to %.1f",
              LEAST_SHARED_C,
              a.lowC(),
              a.highC(),
              b.lowC(),
              b.highC()));
    }
    List<Estimate> axes = new ArrayList<>();
    for (int i = 0; i < a.axes().size(); i++) {
      axes.add(axis(a, b, i, lowC, highC));
    }
    return new CurveDifference(earlier.soak().id(), lowC, highC, List.copyOf(axes));
  }

  private static CurveDifference none(UnitSoak earlier, String reason) {
    Estimate unknown = Estimate.unknown(reason);
    return new CurveDifference(earlier.soak().id(), null, null, List.of(unknown, unknown, unknown));
  }

  private static Estimate axis(SoakFigures a, SoakFigures b, int axis, double lowC, double highC) {
    boolean both =
        a.axes().get(axis).coefficients() != null && b.axes().get(axis).coefficients() != null;
    return both
        ? greatest(Shape.of(a, axis, lowC, highC), Shape.of(b, axis, lowC, highC))
        : Estimate.unknown("one of the soaks has no curve of this axis");
  }

  private static Estimate greatest(Shape a, Shape b) {
    int order = Math.max(a.order(), b.order());
    double scheffe =
        Math.sqrt(new ChiSquaredDistribution(order).inverseCumulativeProbability(0.95));
    double value = 0;
    double se = 0;
    for (int i = 0; i <= STEPS; i++) {
      double u = -1 + 2.0 * i / STEPS;
      double difference = a.at(u) - b.at(u);
      if (Math.abs(difference) >= Math.abs(value)) {
        value = difference;
        se = Math.sqrt(a.varianceAt(u) + b.varianceAt(u));
      }
    }
    return Estimate.of(value, se, scheffe);
  }

  /**
   * A curve without its offset, in powers of u, which runs from -1 to 1 over the shared range.
   *
   * @param c coefficients of u, u^2 …
   * @param covariance of them
   */
  private record Shape(double[] c, RealMatrix covariance) {
    static Shape of(SoakFigures soak, int axis, double lowC, double highC) {
      AxisFigures figures = soak.axes().get(axis);
      int order = figures.coefficients().length - 1;
      RealMatrix change =
          new Array2DRowRealMatrix(
              PolynomialFit.changeOfBasis(
                  new Scale(soak.operatingC(), 1), order, (lowC + highC) / 2));
      double half = (highC - lowC) / 2;
      for (int k = 0; k <= order; k++) {
        change.setRowVector(k, change.getRowVector(k).mapMultiply(Math.pow(half, k)));
      }
      RealMatrix rows = change.getSubMatrix(1, order, 0, order);
      return new Shape(
          rows.operate(figures.coefficients()),
          rows.multiply(new Array2DRowRealMatrix(figures.covariance())).multiplyTransposed(rows));
    }

    int order() {
      return c.length;
    }

    private double[] powers(double u) {
      double[] p = new double[c.length];
      for (int k = 0; k < p.length; k++) {
        p[k] = Math.pow(u, k + 1.0);
      }
      return p;
    }

    double at(double u) {
      double[] p = powers(u);
      double sum = 0;
      for (int k = 0; k < p.length; k++) {
        sum += c[k] * p[k];
      }
      return sum;
    }

    double varianceAt(double u) {
      double[] p = powers(u);
      double[] vp = covariance.operate(p);
      double sum = 0;
      for (int k = 0; k < p.length; k++) {
        sum += p[k] * vp[k];
      }
      return Math.max(0, sum);
    }
  }
}
