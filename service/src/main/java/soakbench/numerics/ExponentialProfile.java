package soakbench.numerics;

import java.util.Arrays;

/**
 * Intervals of an exponential model by profile likelihood (Bates and Watts, Nonlinear Regression
 * Analysis and Its Applications, 1988, 6.1): all values for which some model of the kind fits not
 * much worse than the best. They need not be symmetric, and stay honest where one Jacobian's errors
 * are worthless.
 *
 * @param plateau lower and upper limit
 * @param timeConstants of each, lower and upper limit; 0 or infinity where the readings set none
 */
public record ExponentialProfile(double[] plateau, double[][] timeConstants) {
  private static final double LONGEST_STEP = 0.15;
  private static final double SHORTEST_STEP = 1e-5;
  private static final double STEP_GROWTH = 1.12;
  private static final int MOST_STEPS = 60;
  private static final double LONGEST_SPANS = 20;
  private static final double GOLDEN = (Math.sqrt(5) - 1) / 2;

  /** The other time constant is sought so far from where it was, in its logarithm. */
  private static final double REACH = 0.5;

  private static final int NARROWINGS = 18;

  /** Two time constants are at least this factor apart. */
  private static final double APART = 1.2;

  /**
   * Profiles a fit.
   *
   * @param fit of these readings with this noise
   * @param quantile how many standard errors the limits are out where all is normal
   */
  public static ExponentialProfile of(
      double[] t, double[] y, MarkovNoise noise, ExponentialFit.Result fit, double quantile) {
    int count = fit.timeConstants().length;
    double[] plateau = {fit.plateau(), fit.plateau()};
    double[][] limits = new double[count][];
    double variance = fit.rss() / fit.degreesOfFreedom();
    Readings readings = Readings.of(t, y, noise, quantile * quantile * variance, fit.rss());
    for (int k = 0; k < count; k++) {
      double se = Math.sqrt(fit.covariance()[1 + count + k][1 + count + k]);
      double step = Math.max(SHORTEST_STEP, Math.min(LONGEST_STEP, se * quantile / 6));
      limits[k] =
          new double[] {
            scan(readings, fit.timeConstants(), k, -step, plateau),
            scan(readings, fit.timeConstants(), k, step, plateau)
          };
    }
    return new ExponentialProfile(plateau, limits);
  }

  /** Readings and a level, made independent. */
  private record Readings(
      double[] t,
      double[] white,
      double[] level,
      MarkovNoise noise,
      double allowed,
      double leastRss) {
    static Readings of(double[] t, double[] y, MarkovNoise noise, double allowed, double leastRss) {
      double[] ones = new double[t.length];
      Arrays.fill(ones, 1);
      double[] level = noise.whitened(ones);
      return new Readings(t, noise.whitened(y), level, noise, allowed, leastRss);
    }

    double spanS() {
      return t[t.length - 1] - t[0];
    }

    double[] decay(double tau) {
      return noise.whitened(Decay.of(t, tau));
    }
  }

  /**
   * Moves one time constant away from the best, the others following, until the model fits too
   * badly. Widens the plateau's limits on the way.
   */
  private static double scan(
      Readings r, double[] best, int which, double firstStep, double[] plateau) {
    double[] taus = best.clone();
    double step = firstStep;
    double before = 0;
    for (int i = 0; i < MOST_STEPS; i++) {
      double[] next = taus.clone();
      next[which] *= Math.exp(step);
      if (next[which] > LONGEST_SPANS * r.spanS() || next[which] < r.spanS() / 5000) {
        break;
      }
      if (best.length == 2 && !follow(r, next, which)) {
        break;
      }
      double worse = Math.sqrt(Math.max(0, widen(r, next, which, plateau)) / r.allowed);
      if (worse > 1) {
        double share = (1 - before) / (worse - before);
        return taus[which] * Math.pow(next[which] / taus[which], share);
      }
      before = worse;
      taus = next;
      step *= STEP_GROWTH;
    }
    return firstStep < 0 ? 0 : Double.POSITIVE_INFINITY;
  }

  /** Sets the other time constant to the best beside this one; false where none is left. */
  private static boolean follow(Readings r, double[] taus, int which) {
    int other = 1 - which;
    double low = taus[other] * Math.exp(-REACH);
    double high = taus[other] * Math.exp(REACH);
    if (other == 0) {
      high = Math.min(high, taus[1] / APART);
    } else {
      low = Math.max(low, taus[0] * APART);
    }
    if (!(low < high)) {
      return false;
    }
    Basis beside = Basis.of(r.white).with(r.level).with(r.decay(taus[which]));
    taus[other] = golden(r, beside, Math.log(low), Math.log(high));
    return true;
  }

  private static double golden(Readings r, Basis beside, double from, double to) {
    double low = from;
    double high = to;
    double a = high - GOLDEN * (high - low);
    double b = low + GOLDEN * (high - low);
    double atA = rssWith(r, beside, a);
    double atB = rssWith(r, beside, b);
    for (int i = 0; i < NARROWINGS; i++) {
      if (atA < atB) {
        high = b;
        b = a;
        atB = atA;
        a = high - GOLDEN * (high - low);
        atA = rssWith(r, beside, a);
      } else {
        low = a;
        a = b;
        atA = atB;
        b = low + GOLDEN * (high - low);
        atB = rssWith(r, beside, b);
      }
    }
    return Math.exp(atA < atB ? a : b);
  }

  private static double rssWith(Readings r, Basis beside, double logTau) {
    return beside.rssWith(r.decay(Math.exp(logTau)));
  }

  /**
   * Widens the plateau's limits by what these time constants allow, the one that followed being
   * free nearby (its derivative is one more column).
   *
   * @return by how much the sum of squares is above the best
   */
  private static double widen(Readings r, double[] taus, int which, double[] plateau) {
    Projection fit = linear(r, taus, -1, 0);
    double worse = fit.rss() - r.leastRss;
    if (worse <= r.allowed) {
      if (taus.length == 2) {
        int other = 1 - which;
        fit = linear(r, taus, other, fit.coefficients()[1 + other]);
      }
      double p = fit.coefficients()[0];
      double left = Math.max(0, r.allowed - Math.max(0, worse));
      double half = Math.sqrt(fit.unscaledVariance() * left);
      plateau[0] = Math.min(plateau[0], p - half);
      plateau[1] = Math.max(plateau[1], p + half);
    }
    return worse;
  }

  private static Projection linear(Readings r, double[] taus, int derivative, double amplitude) {
    int size = 1 + taus.length + (derivative < 0 ? 0 : 1);
    double[][] columns = new double[size][];
    columns[0] = r.level.clone();
    for (int k = 0; k < taus.length; k++) {
      columns[1 + k] = r.decay(taus[k]);
    }
    if (derivative >= 0) {
      double[] column = Decay.of(r.t, taus[derivative]);
      for (int i = 0; i < column.length; i++) {
        column[i] *= Math.signum(amplitude) * r.t[i] / taus[derivative];
      }
      columns[size - 1] = r.noise.whitened(column);
    }
    return Projection.of(columns, r.white.clone());
  }
}
