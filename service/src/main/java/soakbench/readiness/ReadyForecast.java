package soakbench.readiness;

import java.util.Arrays;
import org.hipparchus.distribution.continuous.NormalDistribution;
import soakbench.drift.BiasModel;
import soakbench.model.Limits;
import soakbench.numerics.RelaxationPosterior;

/**
 * When a tracker will meet the conditions for the dwell if left as it lies. Evenly spread draws
 * from the mixture over time constants, from plateau and distance given each, from the bias
 * coefficients, and from the wander of the surroundings; the quantiles of the draws' ready times
 * are the answer.
 */
final class ReadyForecast {
  private static final int DRAWS = 120;
  private static final double HORIZON_S = 4 * 3600;
  private static final double LEAST_WANDER_C_PER_MIN = 0.012;
  private static final double[][] SPREAD = spread();

  private final Limits limits;

  ReadyForecast(Limits limits) {
    this.limits = limits;
  }

  /**
   * Seconds from now.
   *
   * @param expected median; NaN where more than three in ten draws never get there
   * @param earliest 5 % point
   * @param latest 95 % point
   * @param never share of draws that never get there
   */
  record Ahead(double expected, double earliest, double latest, double never) {}

  /**
   * @param e evidence with models
   * @param tail what the warm-up's tail says, with what earlier soaks say where they are known
   */
  Ahead ahead(Evidence e, RelaxationPosterior tail, double dwellS) {
    double floor = floorS(e);
    double[] times = new double[DRAWS];
    double dwell = Math.max(0, limits.dwellS() - dwellS);
    for (int d = 0; d < DRAWS; d++) {
      double settled = settledS(e, tail, SPREAD[d]);
      double wait = settled <= 0 ? dwell : settled + limits.dwellS();
      times[d] = Double.isInfinite(settled) ? settled : Math.max(floor, wait);
    }
    Arrays.sort(times);
    double never = Arrays.stream(times).filter(Double::isInfinite).count() / (double) DRAWS;
    if (never > 0.3) {
      return new Ahead(Double.NaN, Double.NaN, Double.NaN, never);
    }
    int reach = (int) Math.round(DRAWS * (1 - never));
    double latest = times[Math.min(reach - 1, (int) (0.95 * DRAWS))];
    return new Ahead(times[(int) (0.5 * reach)], times[(int) (0.05 * DRAWS)], latest, never);
  }

  /**
   * What is known to take its time whatever the temperature does: stillness, the hold, a gap in the
   * window.
   */
  private double floorS(Evidence e) {
    double still = e.movedS() + limits.stillForS() - e.tS();
    double hold = e.turnedS() + limits.holdAfterTurnS() + limits.dwellS() - e.tS();
    return Math.max(0, Math.max(still, hold));
  }

  private double settledS(Evidence e, RelaxationPosterior tail, double[] u) {
    int k = pick(tail.weight(), u[0]);
    double tau = tail.tau()[k];
    double sdD = Math.sqrt(tail.distanceVariance()[k]);
    double distance = tail.distance()[k] + sdD * u[1];
    double plateau = tail.plateau()[k] + (sdD > 0 ? tail.covariance()[k] / sdD * u[1] : 0);
    distance *= Math.exp(-e.tailAgeS() / tau);
    double wander = Math.max(LEAST_WANDER_C_PER_MIN, e.wanderCPerMin()) / 60 * u[2];
    Path path = new Path(plateau + wander * tau, distance - wander * tau, tau);
    double t = bandEntryS(path);
    t = Math.max(t, rateSettledS(path));
    for (int axis = 0; axis < 3 && t < HORIZON_S; axis++) {
      t = Math.max(t, shiftSettledS(path, e.models()[axis], u[3], t));
    }
    boolean leftAgain = t < HORIZON_S && !inBand(path.at(t + limits.dwellS()));
    return t >= HORIZON_S || leftAgain ? Double.POSITIVE_INFINITY : t;
  }

  private record Path(double plateau, double distance, double tau) {
    double at(double t) {
      return plateau + distance * Math.exp(-t / tau);
    }

    double rate(double t) {
      return -distance / tau * Math.exp(-t / tau);
    }
  }

  private boolean inBand(double temperatureC) {
    return temperatureC >= limits.bandLowC() && temperatureC <= limits.bandHighC();
  }

  private double bandEntryS(Path p) {
    double now = p.at(0);
    if (inBand(now)) {
      return 0;
    }
    double edge = now < limits.bandLowC() ? limits.bandLowC() : limits.bandHighC();
    double ratio = (edge - p.plateau) / p.distance;
    return ratio > 0 && ratio < 1 ? -p.tau * Math.log(ratio) : Double.POSITIVE_INFINITY;
  }

  private double rateSettledS(Path p) {
    double limit = limits.temperatureRateLimitCPerMin() / 60;
    double now = Math.abs(p.rate(0));
    return now <= limit ? 0 : p.tau * Math.log(now / limit);
  }

  private double shiftSettledS(Path p, BiasModel model, double z, double from) {
    if (shiftOk(p, model, z, from)) {
      return from;
    }
    double low = from;
    double high = Math.max(60, 2 * from);
    while (!shiftOk(p, model, z, high)) {
      low = high;
      high *= 2;
      if (high > HORIZON_S) {
        return Double.POSITIVE_INFINITY;
      }
    }
    while (high - low > 2) {
      double middle = (low + high) / 2;
      if (shiftOk(p, model, z, middle)) {
        high = middle;
      } else {
        low = middle;
      }
    }
    return high;
  }

  private boolean shiftOk(Path p, BiasModel model, double z, double t) {
    double[] d = model.difference(p.at(t), p.at(t + limits.calibrationS()));
    return Math.abs(d[0] + z * d[1]) <= limits.shiftLimitDps();
  }

  private static int pick(double[] weight, double u) {
    double sum = 0;
    for (int k = 0; k < weight.length; k++) {
      sum += weight[k];
      if (sum >= u) {
        return k;
      }
    }
    return weight.length - 1;
  }

  /**
   * Halton points (Halton, Numer. Math. 2, 1960): first in (0,1), the other three as normal
   * quantiles.
   */
  private static double[][] spread() {
    NormalDistribution normal = new NormalDistribution();
    int[] bases = {2, 3, 5, 7};
    double[][] out = new double[DRAWS][4];
    for (int d = 0; d < DRAWS; d++) {
      for (int j = 0; j < 4; j++) {
        double u = radicalInverse(d + 1, bases[j]);
        out[d][j] = j == 0 ? u : normal.inverseCumulativeProbability(u);
      }
    }
    return out;
  }

  private static double radicalInverse(int index, int base) {
    double value = 0;
    double digit = 1.0 / base;
    for (int i = index; i > 0; i /= base) {
      value += digit * (i % base);
      digit /= base;
    }
    return value;
  }
}
