package soakbench.readiness.estimator;

import java.io.Serializable;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.SplittableRandom;
import soakbench.model.Limits;

/**
 * When this program's own test will have passed for the dwell if nobody touches anything: draws of
 * what will be believed, each held against the limits by the interval that the test will have by
 * then.
 */
final class Forecast implements Serializable {
  /** Step of the paths, s. */
  static final double STEP_S = 20;

  /** How many blocks a step holds. */
  static final int BLOCKS = (int) (STEP_S / Blocks.BLOCK_S);

  private static final int DRAWS = 80;

  /**
   * The part of the paths that have passed by the time that is told: ready has come by then in half
   * of all moments. By the paths' median it has in up to three quarters (docs/methods.md).
   */
  private static final double TOLD = 0.4;

  /**
   * So many filters are looked at, the likeliest, where each holds the axes too and costs many
   * times as much. Of the others all are: early on each is believed so little that a few of them
   * leave out both ends of the interval.
   */
  private static final int MOST_JOINT_PARTS = 8;

  private static final int MOST_STEPS = 360;

  private static final int NOISES = 512;
  private static final double[][] NOISE = noise();

  private final Limits limits;
  private final double quantile;

  Forecast(Limits limits) {
    this.limits = limits;
    this.quantile =
        new org.hipparchus.distribution.continuous.NormalDistribution()
            .inverseCumulativeProbability(1 - limits.alpha());
  }

  /**
   * How things stand.
   *
   * @param newest block that counts
   * @param dwellS how long all has held
   * @param neededS how long it must
   * @param stillS how much longer it must lie still whatever the temperature does
   * @param slopeDpsPerC how steep each axis may be for all that its rates show
   */
  record Now(Block newest, double dwellS, double neededS, double stillS, double slopeDpsPerC) {}

  /** Null where it is as likely as not never to get there. */
  Answer.Expected expected(List<WeighedFilter> all, Now now, double fromS) {
    List<WeighedFilter> parts = heaviest(all);
    double sum = parts.stream().mapToDouble(WeighedFilter::shareAhead).sum();
    double[] times = new double[DRAWS];
    int p = -1;
    double passed = 0;
    PathDraw paths = null;
    FutureCurves curves = null;
    for (int d = 0; d < DRAWS; d++) {
      double u = (d + 0.5) / DRAWS;
      while (paths == null || p < parts.size() - 1 && passed < u) {
        p++;
        passed += parts.get(p).shareAhead() / sum;
        if (passed >= u || p == parts.size() - 1) {
          Future future = Future.of(parts.get(p), now.newest(), curves);
          curves = parts.get(p).joint() ? null : future.curves();
          paths = new PathDraw(parts.get(p), future, limits, quantile, now.slopeDpsPerC());
        } else {
          paths = null;
        }
      }
      times[d] = time(paths, NOISE[(d * 37) % DRAWS], now);
    }
    Arrays.sort(times);
    return Double.isInfinite(times[DRAWS / 2])
        ? null
        : new Answer.Expected(
            fromS,
            times[(int) (TOLD * DRAWS)],
            times[DRAWS / 20],
            Math.min(MOST_STEPS * STEP_S, times[DRAWS - 1 - DRAWS / 20]));
  }

  private static List<WeighedFilter> heaviest(List<WeighedFilter> parts) {
    return parts.stream()
        .sorted(Comparator.comparingDouble(WeighedFilter::shareAhead).reversed())
        .limit(parts.get(0).joint() ? MOST_JOINT_PARTS : parts.size())
        .toList();
  }

  private double time(PathDraw draw, double[] noise, Now now) {
    draw.begin();
    double since = Double.NaN;
    double before = Double.NaN;
    double dwell = now.neededS();
    for (int i = 0; i <= MOST_STEPS; i++) {
      double over = draw.over(i);
      if (over > 0) {
        since = Double.NaN;
      } else if (Double.isNaN(since)) {
        // Between two steps the most that is over its limit falls nearly straight.
        since = i == 0 ? -now.dwellS() : (i - over / (over - before)) * STEP_S;
      }
      if (i * STEP_S - since >= dwell) {
        double fromMiddle = since + dwell - (i > 0 && since > 0 ? Blocks.BLOCK_S / 2 : 0);
        return Math.max(now.stillS(), Math.max(dwell - now.dwellS(), fromMiddle));
      }
      before = over;
      draw.step(i, noise);
    }
    return Double.POSITIVE_INFINITY;
  }

  /** The same for all, so that two answers differ by what was heard and not by chance. */
  private static double[][] noise() {
    SplittableRandom random = new SplittableRandom(41);
    double[][] out = new double[DRAWS][NOISES];
    for (double[] row : out) {
      Arrays.setAll(row, i -> random.nextGaussian());
    }
    return out;
  }
}
