package soakbench.numerics;

import java.io.Serializable;
import soakbench.model.TauPrior;

/**
 * Posterior of y = P + D exp(-(t - now)/tau): given a stretch of readings: a mixture over a log
 * grid of tau, in which P and D are normal for each tau. "now" is the last reading. It keeps the
 * whole banana-shaped uncertainty that one Jacobian loses while the record is shorter than tau.
 *
 * <p>Weight of a tau: the likelihood with P and D integrated out under a flat prior on the present
 * value and the present slope, times a log-normal prior on tau. Autocorrelated residuals (a slow
 * drift, a coarse thermometer) lower the effective number of readings by (1 - r)/(1 + r), r their
 * lag-one correlation.
 *
 * @param mixture what is known; its time constants ascend
 * @param residualSd of the best tau
 * @param effectiveCount effective number of readings
 */
public record RelaxationPosterior(
    RelaxationMixture mixture, double residualSd, double effectiveCount) implements Serializable {

  private static final int MOST_REFINEMENTS = 4;
  private static final double NEGLIGIBLE = 1e-5;
  private static final double GOLDEN = (Math.sqrt(5) - 1) / 2;

  /** e to twice this, times many readings, is still a number. */
  private static final double LARGEST_EXPONENT = 300;

  /**
   * Weighs every tau of the grid; where few of them carry the weight, again over a finer grid
   * there.
   *
   * @param t times, s, ascending, at least 6
   * @param y readings, no NaN
   * @param grid time constants, s, ascending, evenly spaced in their logarithm
   * @param prior of the time constant
   * @param noiseFloor the residual standard deviation is not taken below this (q / sqrt(12) for a
   *     step q)
   */
  public static RelaxationPosterior of(
      double[] t, double[] y, double[] grid, TauPrior prior, double noiseFloor) {
    if (t.length < 6) {
      throw new IllegalArgumentException(t.length + " readings are too few: at least 6");
    }
    Readings readings = Readings.of(t, y);
    RelaxationPosterior posterior = weighed(readings, grid, prior, noiseFloor);
    for (int i = 0; i < MOST_REFINEMENTS && posterior.narrow(); i++) {
      posterior = weighed(readings, posterior.refined(), prior, noiseFloor);
    }
    return posterior;
  }

  private static RelaxationPosterior weighed(
      Readings readings, double[] grid, TauPrior prior, double noiseFloor) {
    OneTau[] fits = new OneTau[grid.length];
    int best = 0;
    for (int k = 0; k < grid.length; k++) {
      fits[k] = OneTau.of(readings, grid[k]);
      if (fits[k].rss < fits[best].rss) {
        best = k;
      }
    }
    OneTau closest = closest(readings, grid, best);
    int n = readings.size();
    double r = Math.max(0, Math.min(0.95, closest.lagOne(readings)));
    double effective = Math.max(4, n * (1 - r) / (1 + r));
    double floor = noiseFloor * noiseFloor * n;
    double inflation = n / effective;
    return assemble(fits, grid, prior, new Noise(closest.rss, floor, inflation, effective, n));
  }

  /**
   * The best time constant between the grid's best and its neighbours, by golden section in its
   * logarithm. The grid's own best would leave a misfit that looks like residuals hanging together.
   */
  private static OneTau closest(Readings readings, double[] grid, int best) {
    double low = Math.log(grid[Math.max(0, best - 1)]);
    double high = Math.log(grid[Math.min(grid.length - 1, best + 1)]);
    double a = high - GOLDEN * (high - low);
    double b = low + GOLDEN * (high - low);
    OneTau atA = OneTau.of(readings, Math.exp(a));
    OneTau atB = OneTau.of(readings, Math.exp(b));
    for (int i = 0; i < 20; i++) {
      if (atA.rss < atB.rss) {
        high = b;
        b = a;
        atB = atA;
        a = high - GOLDEN * (high - low);
        atA = OneTau.of(readings, Math.exp(a));
      } else {
        low = a;
        a = b;
        atA = atB;
        b = low + GOLDEN * (high - low);
        atB = OneTau.of(readings, Math.exp(b));
      }
    }
    return atA.rss < atB.rss ? atA : atB;
  }

  private int firstThatCounts() {
    double[] weight = mixture.weight();
    int k = 0;
    while (weight[k] < NEGLIGIBLE && k < weight.length - 1) {
      k++;
    }
    return k;
  }

  private int lastThatCounts() {
    double[] weight = mixture.weight();
    int k = weight.length - 1;
    while (weight[k] < NEGLIGIBLE && k > 0) {
      k--;
    }
    return k;
  }

  /** Whether so few time constants carry the weight that the truth may lie between two of them. */
  private boolean narrow() {
    return lastThatCounts() - firstThatCounts() + 3 < mixture.tau().length / 2;
  }

  /** As many time constants over the part of the grid that carries the weight. */
  private double[] refined() {
    double[] tau = mixture.tau();
    double low = tau[Math.max(0, firstThatCounts() - 1)];
    double high = tau[Math.min(tau.length - 1, lastThatCounts() + 1)];
    return ExponentialFit.logGrid(low, high, tau.length);
  }

  private record Noise(double leastRss, double floor, double inflation, double effective, int n) {}

  private static RelaxationPosterior assemble(
      OneTau[] fits, double[] grid, TauPrior prior, Noise noise) {
    int size = grid.length;
    double[][] out = new double[6][size];
    double total = 0;
    double logSd = prior.logSd();
    for (int k = 0; k < size; k++) {
      OneTau f = fits[k];
      double fitted = Math.max(f.rss, noise.floor);
      double least = Math.max(noise.leastRss, noise.floor);
      double z = Math.log(grid[k] / prior.medianS()) / logSd;
      double logWeight =
          -(noise.effective - 2) / 2 * Math.log(fitted / least)
              - 0.5 * Math.log(f.sxx)
              - f.ease
              - Math.log(grid[k])
              - z * z / 2;
      double s2 = fitted / (noise.n - 2) * noise.inflation;
      out[0][k] = logWeight;
      out[1][k] = f.plateau;
      double eased = Math.exp(-f.ease);
      out[2][k] = f.distance * eased;
      out[3][k] = s2 * (1.0 / noise.n + f.meanX * f.meanX / f.sxx);
      out[4][k] = s2 / f.sxx * eased * eased;
      out[5][k] = -s2 * f.meanX / f.sxx * eased;
    }
    double top = java.util.Arrays.stream(out[0]).max().orElseThrow();
    for (int k = 0; k < size; k++) {
      out[0][k] = Math.exp(out[0][k] - top);
      total += out[0][k];
    }
    for (int k = 0; k < size; k++) {
      out[0][k] /= total;
    }
    double sd = Math.sqrt(Math.max(noise.leastRss, noise.floor) / Math.max(1, noise.n - 3));
    RelaxationMixture.Given given =
        new RelaxationMixture.Given(out[1], out[2], out[3], out[4], out[5]);
    RelaxationMixture mixture = new RelaxationMixture(grid, out[0], given);
    return new RelaxationPosterior(mixture, sd, noise.effective);
  }

  /** The time constant whose cumulative weight reaches {@code p}, s; interpolated in ln tau. */
  public double tauQuantile(double p) {
    double[] tau = mixture.tau();
    double[] weight = mixture.weight();
    double below = 0;
    for (int k = 0; k < tau.length; k++) {
      if (below + weight[k] >= p || k == tau.length - 1) {
        double step = k == 0 ? 1 : tau[k] / tau[k - 1];
        double share = weight[k] > 0 ? (p - below) / weight[k] : 0.5;
        return tau[k] * Math.pow(step, share - 0.5);
      }
      below += weight[k];
    }
    throw new AssertionError("weights sum to one");
  }

  /**
   * Readings made ready for many time constants.
   *
   * @param stepS time since the reading before; 0 for the first
   * @param evenUntil index after the last of the readings that follow at the same step
   * @param off each reading's distance from their mean
   * @param square sum of the squares of these
   */
  private record Readings(
      double spanS, double[] stepS, int[] evenUntil, double mean, double[] off, double square) {
    static Readings of(double[] t, double[] y) {
      int n = t.length;
      double mean = 0;
      for (double v : y) {
        mean += v / n;
      }
      double[] step = new double[n];
      double[] off = new double[n];
      double square = 0;
      for (int i = 0; i < n; i++) {
        step[i] = i == 0 ? 0 : t[i] - t[i - 1];
        off[i] = y[i] - mean;
        square += off[i] * off[i];
      }
      int[] evenUntil = new int[n];
      for (int i = n - 1; i >= 0; i--) {
        evenUntil[i] = i + 1 < n && step[i + 1] == step[i] ? evenUntil[i + 1] : i + 1;
      }
      return new Readings(t[n - 1] - t[0], step, evenUntil, mean, off, square);
    }

    int size() {
      return off.length;
    }
  }

  /**
   * Straight-line regression on x = exp(-(t - now)/tau - ease). The ease is nothing but in a record
   * so many time constants long that x would be too large for a number. Along evenly spaced
   * readings each x is the one before times the same factor.
   */
  private record OneTau(
      double tau,
      double plateau,
      double distance,
      double meanX,
      double sxx,
      double ease,
      double rss) {

    static OneTau of(Readings readings, double tau) {
      int n = readings.size();
      double ease = Math.max(0, readings.spanS / tau - LARGEST_EXPONENT);
      double x = Math.exp(readings.spanS / tau - ease);
      // Sums about a value amid all x keep their digits in one pass.
      double amid = Math.exp(readings.spanS / 2 / tau - ease);
      double sx = 0;
      double sxx = 0;
      double sxy = 0;
      for (int i = 0; i < n; ) {
        double factor = Math.exp(-readings.stepS[i] / tau);
        for (int until = readings.evenUntil[i]; i < until; i++) {
          x *= factor;
          double dx = x - amid;
          sx += dx;
          sxx += dx * dx;
          sxy += dx * readings.off[i];
        }
      }
      double meanX = amid + sx / n;
      sxx -= sx * sx / n;
      double d = sxy / sxx;
      double rss = Math.max(0, readings.square - d * sxy);
      return new OneTau(tau, readings.mean - d * meanX, d, meanX, sxx, ease, rss);
    }

    double lagOne(Readings readings) {
      double x = Math.exp(readings.spanS / tau - ease);
      double before = 0;
      double product = 0;
      double square = 0;
      for (int i = 0; i < readings.size(); ) {
        double factor = Math.exp(-readings.stepS[i] / tau);
        for (int until = readings.evenUntil[i]; i < until; i++) {
          x *= factor;
          double e = readings.off[i] - distance * (x - meanX);
          product += e * before;
          square += e * e;
          before = e;
        }
      }
      return square > 0 ? product / square : 0;
    }
  }
}
