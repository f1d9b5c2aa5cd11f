package soakbench.lots.statistics;

import java.util.Arrays;
import org.hipparchus.random.RandomDataGenerator;
import org.hipparchus.random.Well19937c;
import org.hipparchus.stat.StatUtils;

/**
 * What the median of a group might have been: the medians of resamples (B. Efron, 1979, "Bootstrap
 * methods: another look at the jackknife", Ann. Statist. 7, 1 to 26). A resample's median needs no
 * resample: it is the figure, or lies midway between the two, at places that are order statistics
 * of uniform numbers, which follow beta distributions. So the cost does not grow with the group,
 * and the same figures always give the same draws.
 */
public final class MedianDraws {
  /** Of fewer the median says nothing. */
  public static final int LEAST = 3;

  static final int DRAWS = 10_000;
  private static final int SEED = 1_979;

  private final double median;
  private final int count;
  private final double[] logs = new double[DRAWS];

  private MedianDraws(double[] sorted, RandomDataGenerator random) {
    count = sorted.length;
    median = (sorted[(count - 1) / 2] + sorted[count / 2]) / 2;
    for (int i = 0; i < DRAWS; i++) {
      logs[i] = Math.log(drawn(sorted, random));
    }
  }

  /**
   * Draws the medians of a group.
   *
   * @param figures {@value #LEAST} or more, of 0 or more, the median above 0; no NaN
   * @param stream another for each group, so that their draws don't go together
   * @throws IllegalArgumentException if there are fewer, or half of them are 0
   */
  public static MedianDraws of(double[] figures, int stream) {
    double[] sorted = figures.clone();
    Arrays.sort(sorted);
    if (sorted.length < LEAST || !(sorted[(sorted.length - 1) / 2] > 0)) {
      throw new IllegalArgumentException(
          "a median of %d figures, %s, has no ratio"
              .formatted(sorted.length, StatUtils.percentile(sorted, 50)));
    }
    return new MedianDraws(sorted, RandomDataGenerator.of(new Well19937c(SEED + stream)));
  }

  private static double drawn(double[] sorted, RandomDataGenerator random) {
    int n = sorted.length;
    int middle = (n + 1) / 2;
    double place = random.nextBeta(middle, n + 1.0 - middle);
    double lower = figure(sorted, place);
    if (n % 2 == 1) {
      return lower;
    }
    double rest = Math.pow(random.nextUniform(0, 1), 1.0 / (n - middle));
    return (lower + figure(sorted, 1 - (1 - place) * rest)) / 2;
  }

  private static double figure(double[] sorted, double place) {
    return sorted[Math.min((int) (place * sorted.length), sorted.length - 1)];
  }

  double median() {
    return median;
  }

  /** Logarithm of one of the medians drawn. */
  double log(int draw) {
    return logs[draw];
  }

  /** Variance of the logarithm of the median. */
  double logVariance() {
    return StatUtils.variance(logs);
  }

  int count() {
    return count;
  }
}
