package soakbench.numerics;

import java.util.Arrays;
import java.util.Optional;
import soakbench.model.TauPrior;

/**
 * The same question as {@link RelaxationPosterior} for readings of which only an interval is known:
 * a thermometer whose step its own noise does not carry it over. For each tau the pairs (present
 * value, present distance) that pass through all intervals form a convex polygon; they are taken as
 * equally likely, and a tau weighs as much as its polygon's area in (present value, present slope),
 * times the prior.
 */
public final class CensoredRelaxation {
  private static final double FARTHEST = 100;

  private CensoredRelaxation() {}

  /**
   * The posterior given the intervals.
   *
   * @param t times, s, ascending, at least 6
   * @param low lower ends
   * @param high upper ends, each above its lower end
   * @param grid time constants, s
   * @param prior of the time constant
   * @param margin by how much the intervals are widened: by how much the surroundings may drift
   * @return the posterior; empty where no model passes through all the intervals
   */
  public static Optional<RelaxationPosterior> of(
      double[] t, double[] low, double[] high, double[] grid, TauPrior prior, double margin) {
    if (t.length < 6) {
      throw new IllegalArgumentException(t.length + " intervals are too few: at least 6");
    }
    return Optional.ofNullable(widened(t, low, high, grid, prior, margin));
  }

  private static RelaxationPosterior widened(
      double[] t, double[] low, double[] high, double[] grid, TauPrior prior, double margin) {
    int n = grid.length;
    double[][] out = new double[6][n];
    double total = 0;
    double logSd = prior.logSd();
    for (int k = 0; k < n; k++) {
      ConvexRegion.Figures f = region(t, low, high, grid[k], margin).figures();
      double z = Math.log(grid[k] / prior.medianS()) / logSd;
      out[0][k] = f.area() / grid[k] * Math.exp(-z * z / 2);
      out[1][k] = f.meanX() - f.meanY();
      out[2][k] = f.meanY();
      out[3][k] = f.varX() + f.varY() - 2 * f.cov();
      out[4][k] = f.varY();
      out[5][k] = f.cov() - f.varY();
      total += out[0][k];
    }
    if (!(total > 0)) {
      return null;
    }
    double sum = total;
    double[] weight = Arrays.stream(out[0]).map(w -> w / sum).toArray();
    RelaxationMixture.Given given =
        new RelaxationMixture.Given(out[1], out[2], out[3], out[4], out[5]);
    RelaxationMixture mixture = new RelaxationMixture(grid, weight, given);
    return new RelaxationPosterior(mixture, margin, t.length);
  }

  /** In (present value u, present distance v): the model at t is u + v (exp((now - t)/tau) - 1). */
  private static ConvexRegion region(
      double[] t, double[] low, double[] high, double tau, double margin) {
    int n = t.length;
    ConvexRegion region =
        new ConvexRegion(low[n - 1] - margin, high[n - 1] + margin, -FARTHEST, FARTHEST);
    for (int i = n - 2; i >= 0; i--) {
      double x = Math.expm1((t[n - 1] - t[i]) / tau);
      region.keep(1, x, high[i] + margin);
      region.keep(-1, -x, margin - low[i]);
    }
    return region;
  }
}
