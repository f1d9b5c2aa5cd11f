package soakbench.numerics;

import java.util.Arrays;

/**
 * Columns that explain readings, made orthonormal, and what they leave of the readings: the
 * modified Gram-Schmidt of {@link Projection}, done once for all columns that are then tried beside
 * them. Immutable.
 */
final class Basis {
  private final double[][] units;
  private final double[] rest;

  private Basis(double[][] units, double[] rest) {
    this.units = units;
    this.rest = rest;
  }

  /** No columns yet. */
  static Basis of(double[] y) {
    return new Basis(new double[0][], y);
  }

  /** With one more column. Nothing fits any more where it depends on those before it. */
  Basis with(double[] column) {
    double[] unit = apart(column);
    double length = Math.sqrt(square(unit, column));
    for (int i = 0; i < unit.length; i++) {
      unit[i] /= length;
    }
    double[] left = rest.clone();
    Projection.takeOff(left, unit);
    double[][] more = Arrays.copyOf(units, units.length + 1);
    more[units.length] = unit;
    return new Basis(more, left);
  }

  /** Residual sum of squares with one more column; infinity where it depends on the others. */
  double rssWith(double[] column) {
    double[] apart = apart(column);
    double square = square(apart, column);
    if (Double.isNaN(square)) {
      return Double.POSITIVE_INFINITY;
    }
    double share = Projection.dot(rest, apart) / square;
    double rss = 0;
    for (int i = 0; i < rest.length; i++) {
      double left = rest[i] - share * apart[i];
      rss += left * left;
    }
    return rss;
  }

  /** Of what is left of a column; NaN where that is nothing but rounding. */
  private static double square(double[] apart, double[] column) {
    double square = Projection.dot(apart, apart);
    double least = Math.pow(Projection.DEPENDENT, 2) * Projection.dot(column, column);
    return square > least ? square : Double.NaN;
  }

  /** What the columns leave of another. */
  private double[] apart(double[] column) {
    double[] left = column.clone();
    for (double[] unit : units) {
      Projection.takeOff(left, unit);
    }
    return left;
  }
}
