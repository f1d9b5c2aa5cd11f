package soakbench.numerics;

import java.util.Arrays;
import java.util.function.UnaryOperator;
import java.util.stream.IntStream;
import org.hipparchus.linear.Array2DRowRealMatrix;
import org.hipparchus.linear.ArrayRealVector;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.hipparchus.linear.RealVector;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresBuilder;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LeastSquaresOptimizer.Optimum;
import org.hipparchus.optim.nonlinear.vector.leastsquares.LevenbergMarquardtOptimizer;
import org.hipparchus.util.Pair;

/**
 * Fits y = P + A1 exp(-t/tau1) [+ A2 exp(-t/tau2)], the lumped-capacity model of a body that warms
 * towards its surroundings.
 *
 * <p>Starting values come from variable projection (Golub and Pereyra, SIAM J. Numer. Anal. 10(2),
 * 1973): for given time constants the rest is linear, so a log grid over the time constants alone
 * is searched. Levenberg-Marquardt in ln tau with analytic derivatives finishes. Immutable; every
 * {@code with…} returns a new one.
 */
public final class ExponentialFit {
  private static final int GRID_ONE = 80;
  private static final int GRID_TWO = 28;
  private static final int MOST_POLISHING = 8;

  /** Relative change at which the solver stops: of the sum of squares, of the parameters. */
  private static final double CLOSE = 1e-14;

  private static final double CLOSE_PARAMETERS = 1e-13;

  /** Either where the figures themselves are shown to nobody. */
  private static final double ROUGH = 1e-9;

  /** A first step longer than half this share of the parameters is no polishing. */
  private static final double FARTHEST_POLISHING = 2e-3;

  private final int count;
  private final double heldStart;
  private final UnaryOperator<double[][]> whitener;
  private final boolean rough;

  private ExponentialFit(
      int count, double heldStart, UnaryOperator<double[][]> whitener, boolean rough) {
    this.count = count;
    this.heldStart = heldStart;
    this.whitener = whitener;
    this.rough = rough;
  }

  /**
   * A fit with one or two time constants.
   *
   * @throws IllegalArgumentException for another number
   */
  public static ExponentialFit withTimeConstants(int count) {
    if (count != 1 && count != 2) {
      throw new IllegalArgumentException(count + " time constants: only 1 or 2 can be fitted");
    }
    return new ExponentialFit(count, Double.NaN, UnaryOperator.identity(), false);
  }

  /** The same with the value at t = 0 held. */
  public ExponentialFit withStartHeld(double value) {
    return new ExponentialFit(count, value, whitener, rough);
  }

  /**
   * The same for readings with this noise (generalized least squares). Residuals and their sum of
   * squares are then those of the whitened readings.
   */
  public ExponentialFit withNoise(MarkovNoise noise) {
    return new ExponentialFit(count, heldStart, noise::whitened, rough);
  }

  /** The same to four digits or more in place of all: for trials that are made by the dozen. */
  public ExponentialFit roughly() {
    return new ExponentialFit(count, heldStart, whitener, true);
  }

  /**
   * What came out. Parameters of the covariance: (P unless the start is held), amplitudes, ln time
   * constants, in the order of the arrays.
   *
   * @param plateau P
   * @param amplitudes A, one for each time constant
   * @param timeConstants tau, fastest first, in the unit of t
   * @param covariance of the parameters, scaled by the residual variance
   * @param rss residual sum of squares
   * @param degreesOfFreedom rows minus parameters
   * @param residuals observed minus fitted
   */
  public record Result(
      double plateau,
      double[] amplitudes,
      double[] timeConstants,
      double[][] covariance,
      double rss,
      int degreesOfFreedom,
      double[] residuals) {

    public double residualSd() {
      return Math.sqrt(rss / degreesOfFreedom);
    }

    /**
     * Standard error of the model at t, to first order in the parameters.
     *
     * @throws IllegalStateException if the start was held: its covariance is another
     */
    public double standardErrorAt(double t) {
      int count = amplitudes.length;
      if (covariance.length != 1 + 2 * count) {
        throw new IllegalStateException("only for fits whose start is free");
      }
      double[] gradient = new double[1 + 2 * count];
      gradient[0] = 1;
      for (int k = 0; k < count; k++) {
        double x = t / timeConstants[k];
        gradient[1 + k] = Math.exp(-x);
        gradient[1 + count + k] = amplitudes[k] * Math.exp(-x) * x;
      }
      double variance = 0;
      for (int i = 0; i < gradient.length; i++) {
        for (int j = 0; j < gradient.length; j++) {
          variance += gradient[i] * covariance[i][j] * gradient[j];
        }
      }
      return Math.sqrt(Math.max(0, variance));
    }

    public double at(double t) {
      double y = plateau;
      for (int k = 0; k < amplitudes.length; k++) {
        y += amplitudes[k] * Math.exp(-t / timeConstants[k]);
      }
      return y;
    }
  }

  /**
   * Fits without a start from the user.
   *
   * @param t ascending, no NaN
   * @param y as many, no NaN
   * @throws IllegalArgumentException if there are too few points
   * @throws org.hipparchus.exception.MathIllegalStateException if the iteration does not settle
   */
  public Result fit(double[] t, double[] y) {
    requireEnough(t, y);
    return fitFrom(t, y, bestOnGrid(t, y));
  }

  /** Fits from given time constants. */
  public Result fitFrom(double[] t, double[] y, double[] timeConstants) {
    requireEnough(t, y);
    double[] amplitudes = linear(t, y, timeConstants).coefficients();
    double[] start = new double[amplitudes.length + count];
    System.arraycopy(amplitudes, 0, start, 0, amplitudes.length);
    for (int k = 0; k < count; k++) {
      start[amplitudes.length + k] = Math.log(timeConstants[k]);
    }
    Optimum optimum =
        new LevenbergMarquardtOptimizer()
            .withCostRelativeTolerance(rough ? ROUGH : CLOSE)
            .withParameterRelativeTolerance(rough ? ROUGH : CLOSE_PARAMETERS)
            .withOrthoTolerance(rough ? ROUGH : CLOSE)
            .optimize(
                new LeastSquaresBuilder()
                    .model(p -> valueAndJacobian(t, p))
                    .target(target(y))
                    .start(start)
                    .maxEvaluations(2000)
                    .maxIterations(1000)
                    .build());
    double[] found = optimum.getPoint().toArray();
    return result(t, y, rough ? found : polished(t, target(y), found));
  }

  /**
   * Newton-like steps (Gauss-Newton) until they no longer get smaller. The solver stops where the
   * sum of squares stops falling, and that is flat to half the digits of the parameters.
   */
  private double[] polished(double[] t, double[] target, double[] p) {
    double[] at = p;
    double before = FARTHEST_POLISHING * new ArrayRealVector(p).getNorm();
    for (int i = 0; i < MOST_POLISHING; i++) {
      double[] step = gaussNewtonStep(t, target, at);
      double size = new ArrayRealVector(step, false).getNorm();
      if (!(size < before / 2)) {
        return at;
      }
      at = new ArrayRealVector(at).add(new ArrayRealVector(step, false)).toArray();
      before = size;
    }
    return at;
  }

  private double[] gaussNewtonStep(double[] t, double[] target, double[] p) {
    Pair<RealVector, RealMatrix> model = valueAndJacobian(t, new ArrayRealVector(p));
    double[] residuals = new ArrayRealVector(target).subtract(model.getFirst()).toArray();
    return LinearFit.of(model.getSecond().getData(), residuals).coefficients();
  }

  private boolean held() {
    return !Double.isNaN(heldStart);
  }

  private int linearCount() {
    return held() ? count : count + 1;
  }

  private void requireEnough(double[] t, double[] y) {
    int needed = linearCount() + count + 1;
    if (t.length != y.length || t.length < needed) {
      throw new IllegalArgumentException(
          t.length + " points are too few for " + count + " time constants: at least " + needed);
    }
  }

  private double[] target(double[] y) {
    double[] from = held() ? Arrays.stream(y).map(v -> v - heldStart).toArray() : y;
    return whitener.apply(new double[][] {from})[0];
  }

  private LinearFit linear(double[] t, double[] y, double[] taus) {
    return LinearFit.of(rows(whitener.apply(columns(t, taus)), linearCount()), target(y));
  }

  private double[][] columns(double[] t, double[] taus) {
    int offset = held() ? 0 : 1;
    double[][] columns = new double[offset + taus.length][];
    if (!held()) {
      columns[0] = new double[t.length];
      Arrays.fill(columns[0], 1);
    }
    for (int k = 0; k < taus.length; k++) {
      columns[offset + k] = column(t, taus[k]);
    }
    return columns;
  }

  private double[] column(double[] t, double tau) {
    double[] column = Decay.of(t, tau);
    for (int i = 0; held() && i < t.length; i++) {
      column[i] -= 1;
    }
    return column;
  }

  /** The first columns turned into rows. */
  private static double[][] rows(double[][] columns, int count) {
    double[][] rows = new double[columns[0].length][count];
    for (int i = 0; i < rows.length; i++) {
      for (int j = 0; j < count; j++) {
        rows[i][j] = columns[j][i];
      }
    }
    return rows;
  }

  private double[] bestOnGrid(double[] t, double[] y) {
    double span = t[t.length - 1] - t[0];
    double[] grid = logGrid(span / 200, span * 20, count == 1 ? GRID_ONE : GRID_TWO);
    double[][] columns = whitener.apply(columns(t, grid));
    int offset = columns.length - grid.length;
    Basis level = held() ? Basis.of(target(y)) : Basis.of(target(y)).with(columns[0]);
    double[][] tried = Arrays.copyOfRange(columns, offset, columns.length);
    int[] best = count == 1 ? bestOne(level, tried) : level.bestPair(tried);
    if (best == null) {
      throw new IllegalArgumentException("no time constant fits: the readings do not change");
    }
    return Arrays.stream(best).mapToDouble(k -> grid[k]).toArray();
  }

  private static int[] bestOne(Basis level, double[][] columns) {
    int[] best = null;
    double least = Double.POSITIVE_INFINITY;
    for (int k = 0; k < columns.length; k++) {
      double rss = level.rssWith(columns[k]);
      if (rss < least) {
        least = rss;
        best = new int[] {k};
      }
    }
    return best;
  }

  /** Values spaced evenly in their logarithm, both ends included. */
  public static double[] logGrid(double low, double high, int size) {
    return IntStream.range(0, size)
        .mapToDouble(i -> low * Math.pow(high / low, i / (double) (size - 1)))
        .toArray();
  }

  private Pair<RealVector, RealMatrix> valueAndJacobian(double[] t, RealVector p) {
    int linear = linearCount();
    int offset = held() ? 0 : 1;
    double start = held() ? 1 : 0;
    int parameters = linear + count;
    // The values go with the derivatives, as the last column.
    double[][] columns = new double[parameters + 1][t.length];
    double[] value = columns[parameters];
    if (!held()) {
      Arrays.fill(value, p.getEntry(0));
      Arrays.fill(columns[0], 1);
    }
    for (int k = 0; k < count; k++) {
      double tau = Math.exp(p.getEntry(linear + k));
      double amplitude = p.getEntry(offset + k);
      for (int i = 0; i < t.length; i++) {
        double decayed = Math.exp(-t[i] / tau);
        value[i] += amplitude * (decayed - start);
        columns[offset + k][i] = decayed - start;
        columns[linear + k][i] = amplitude * decayed * t[i] / tau;
      }
    }
    double[][] white = whitener.apply(columns);
    return new Pair<>(
        new ArrayRealVector(white[parameters], false), new Jacobian(rows(white, parameters)));
  }

  /**
   * The solver negates it at each step and then asks for a copy to work in: the library does the
   * first entry by entry, each checked, and the negated one is a copy already.
   */
  private static final class Jacobian extends Array2DRowRealMatrix {
    private static final long serialVersionUID = 1;

    Jacobian(double[][] rows) {
      super(rows, false);
    }

    @Override
    public RealMatrix scalarMultiply(double factor) {
      double[][] rows = getDataRef();
      double[][] out = new double[rows.length][];
      for (int i = 0; i < rows.length; i++) {
        out[i] = rows[i].clone();
        for (int j = 0; j < out[i].length; j++) {
          out[i][j] *= factor;
        }
      }
      return new Jacobian(out);
    }

    @Override
    public double[][] getData() {
      return getDataRef();
    }
  }

  private Result result(double[] t, double[] y, double[] p) {
    int linear = linearCount();
    int[] order = order(p, linear);
    double[] sorted = p.clone();
    for (int k = 0; k < count; k++) {
      sorted[linear - count + k] = p[linear - count + order[k]];
      sorted[linear + k] = p[linear + order[k]];
    }
    Pair<RealVector, RealMatrix> model = valueAndJacobian(t, new ArrayRealVector(sorted));
    double[] target = target(y);
    double[] residuals = new double[t.length];
    double rss = 0;
    for (int i = 0; i < t.length; i++) {
      residuals[i] = target[i] - model.getFirst().getEntry(i);
      rss += residuals[i] * residuals[i];
    }
    int df = t.length - p.length;
    double[] amplitudes = Arrays.copyOfRange(sorted, linear - count, linear);
    double plateau = held() ? heldStart - Arrays.stream(amplitudes).sum() : sorted[0];
    double[] taus = Arrays.stream(sorted, linear, linear + count).map(Math::exp).toArray();
    double[][] covariance = covariance(model.getSecond(), rss / df);
    return new Result(plateau, amplitudes, taus, covariance, rss, df, residuals);
  }

  private static double[][] covariance(RealMatrix jacobian, double residualVariance) {
    LinearFit fit = LinearFit.of(jacobian.getData(), new double[jacobian.getRowDimension()]);
    return MatrixUtils.createRealMatrix(fit.unscaledCovariance())
        .scalarMultiply(residualVariance)
        .getData();
  }

  private int[] order(double[] p, int linear) {
    return count == 2 && p[linear] > p[linear + 1]
        ? new int[] {1, 0}
        : IntStream.range(0, count).toArray();
  }
}
