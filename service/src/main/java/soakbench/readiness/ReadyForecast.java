package soakbench.readiness;

import java.util.Arrays;
import java.util.SplittableRandom;
import org.hipparchus.distribution.continuous.NormalDistribution;
import soakbench.model.Limits;
import soakbench.thermal.RoomOutlook;
import soakbench.thermal.RoomSwing;

/**
 * When a tracker will meet the conditions for the dwell if left as it lies. Evenly spread draws
 * from what is known of body and room, from the bias coefficients, and from what the room may do
 * next; the quantiles of the draws' ready times are the answer.
 */
final class ReadyForecast {
  private static final int DRAWS = 100;
  private static final double STEP_S = 20;
  private static final int MOST_STEPS = 4 * 180;

  /** After so many time constants a path goes nowhere any more. */
  private static final double OVER = 7;

  private static final RoomSwing LAW = RoomSwing.over(STEP_S);
  private static final double[][] SPREAD = spread();
  private static final double[][] STIR = stir();

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
   * @param e evidence with an outlook and models
   */
  Ahead ahead(Evidence e, double dwellS) {
    double floor = floorS(e);
    SlopeTable slopes = new SlopeTable(e.bias().models(), e.temperature().nowC());
    double[] times = new double[DRAWS];
    double dwell = Math.max(0, limits.dwellS() - dwellS);
    for (int d = 0; d < DRAWS; d++) {
      double[] u = SPREAD[d];
      RoomOutlook.Path path =
          e.temperature().window().outlook().path(u[0], Arrays.copyOfRange(u, 1, 6));
      double settled = settledS(path, slopes, u[6], STIR[d]);
      double wait =
          settled <= 0 ? dwell : settled + limits.dwellS() - e.temperature().window().ageS();
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
    double hold = e.temperature().turnedS() + limits.holdAfterTurnS() + limits.dwellS() - e.tS();
    return Math.max(0, Math.max(still, hold));
  }

  /**
   * Start of the first stretch of a dwell's length in which all conditions hold along a path, s
   * from now; infinite where there is none.
   */
  private double settledS(RoomOutlook.Path path, SlopeTable slopes, double z, double[] stir) {
    int look = (int) Math.ceil(limits.calibrationS() / STEP_S);
    int most = (int) Math.min(MOST_STEPS, OVER * path.tauS() / STEP_S + look);
    double[] celsius = new double[most + look + 2];
    celsius[0] = path.temperatureC();
    int known = 0;
    double before = Double.NaN;
    double since = Double.NaN;
    for (int i = 0; i <= most; i++) {
      for (; known < i + look + 1; known++) {
        int at = 2 * known % stir.length;
        path.step(STEP_S, LAW, stir[at], stir[at + 1]);
        celsius[known + 1] = path.temperatureC();
      }
      double over = overLimits(celsius, i, look, slopes, z);
      if (over > 0) {
        since = Double.NaN;
      } else if (Double.isNaN(since)) {
        // Between two steps the most that is over its limit falls nearly straight.
        since = i == 0 ? 0 : (i - over / (over - before)) * STEP_S;
      }
      if (i * STEP_S - since >= limits.dwellS()) {
        return since;
      }
      before = over;
    }
    return Double.POSITIVE_INFINITY;
  }

  /**
   * By how much the worst of band, rate and shift exceeds its limit, as a part of it; not positive
   * where all hold.
   */
  private double overLimits(double[] celsius, int i, int look, SlopeTable slopes, double z) {
    double half = (limits.bandHighC() - limits.bandLowC()) / 2;
    double middle = (limits.bandHighC() + limits.bandLowC()) / 2;
    double band = Math.abs(celsius[i] - middle) / half - 1;
    int later = i + 1;
    int earlier = Math.max(0, i - 1);
    double rate = Math.abs(celsius[later] - celsius[earlier]) / ((later - earlier) * STEP_S);
    double rateLimit = limits.temperatureRateLimitCPerMin() / 60;
    double most = 0;
    for (int j = 1; j <= look; j++) {
      most = Math.max(most, Math.abs(celsius[i + j] - celsius[i]));
    }
    double shift = most * slopes.steepest(celsius[i], z);
    return Math.max(band, Math.max(rate / rateLimit, shift / limits.shiftLimitDps()) - 1);
  }

  /**
   * Halton points (Halton, Numer. Math. 2, 1960): first in (0,1), the others as normal quantiles.
   */
  private static double[][] spread() {
    NormalDistribution normal = new NormalDistribution();
    int[] bases = {2, 3, 5, 7, 11, 13, 17};
    double[][] out = new double[DRAWS][bases.length];
    for (int d = 0; d < DRAWS; d++) {
      for (int j = 0; j < bases.length; j++) {
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

  private static double[][] stir() {
    SplittableRandom random = new SplittableRandom(41);
    double[][] out = new double[DRAWS][256];
    for (double[] row : out) {
      Arrays.setAll(row, i -> random.nextGaussian());
    }
    return out;
  }
}
