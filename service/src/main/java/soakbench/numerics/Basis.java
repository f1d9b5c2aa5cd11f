package soakbench.numerics;

import java.util.Arrays;

/**
 * Columns that explain readings, made orthonormal, and what they leave of the readings: the
 * modified Gram-Schmidt of {@link Projection}, done once for all columns that are then tried beside
 * them. Immutable.
 */
final class Basis {
  /** What the normal equations may be wrong by, of the square of the readings; generous. */
  private static final double DOUBT = 1e-7;

  /** Pairs more alike than this are not left to them. */
  private static final double ALIKE = 1e-8;

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

  /**
   * Which two more columns explain the readings best. The normal equations say in two steps how
   * much each pair explains, but to half the digits only; so those that come near the best are
   * tried once more as {@link #rssWith} does, which alone decides.
   *
   * @return the first and the second, in their order; null where no pair is independent
   */
  int[] bestPair(double[][] columns) {
    double[][] explained = explained(columns);
    double most = 0;
    for (double[] row : explained) {
      for (double share : row) {
        most = share < Double.POSITIVE_INFINITY ? Math.max(most, share) : most;
      }
    }
    int[] best = null;
    double least = Double.POSITIVE_INFINITY;
    for (int i = 0; i < columns.length; i++) {
      Basis beside = null;
      for (int j = i + 1; j < columns.length; j++) {
        if (!(explained[i][j] < most - DOUBT)) {
          beside = beside == null ? with(columns[i]) : beside;
          double rss = beside.rssWith(columns[j]);
          if (rss < least) {
            least = rss;
            best = new int[] {i, j};
          }
        }
      }
    }
    return best;
  }

  /** Share of the readings' square that each pair explains; infinity where it is not to be told. */
  private double[][] explained(double[][] columns) {
    int n = columns.length;
    double[][] left = new double[n][];
    double[] square = new double[n];
    double[] along = new double[n];
    double all = Projection.dot(rest, rest);
    for (int i = 0; i < n; i++) {
      left[i] = apart(columns[i]);
      square[i] = Projection.dot(left[i], left[i]);
      along[i] = Projection.dot(rest, left[i]);
    }
    double[][] out = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = i + 1; j < n; j++) {
        double both = Projection.dot(left[i], left[j]);
        double squares = square[i] * square[j];
        double apartness = squares - both * both;
        double sum =
            along[i] * along[i] * square[j]
                - 2 * along[i] * along[j] * both
                + along[j] * along[j] * square[i];
        out[i][j] = apartness > ALIKE * squares ? sum / apartness / all : Double.POSITIVE_INFINITY;
      }
    }
    return out;
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
