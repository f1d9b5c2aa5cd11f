package soakbench.lots.statistics;

import java.util.Arrays;
import org.hipparchus.random.RandomDataGenerator;
import org.hipparchus.random.Well19937c;
import org.hipparchus.stat.StatUtils;
import soakbench.model.Estimate;

/**
 * How many times as large the figures of one group are as those of another: the ratio of their
 * medians, with limits by the bootstrap's percentiles (B. Efron, 1979, "Bootstrap methods: another
 * look at the jackknife", Ann. Statist. 7, 1 to 26). A resample's median needs no resample: it is
 * the figure, or lies midway between the two, at places that are order statistics of uniform
 * numbers, which follow beta distributions. So the cost does not grow with the groups, and the
 * limits are always the same for the same figures.
 *
 * @param ratio median of the second by median of the first, with its limits; its standard error is
 *     not given, being one of the logarithm
 * @param first variance of the logarithm of the first median, times the first group's size
 * @param second the same of the second
 */
public record MedianRatio(Estimate ratio, double first, double second) {
  private static final int SEED = 1_979;
  private static final int DRAWS = 10_000;

  /**
   * The ratio.
   *
   * @param a figures of 0 or more, three or more of them, no NaN
   * @param b likewise
   * @param alpha how often limits shall miss, 0.05 for one pair alone
   * @throws IllegalArgumentException if a group is smaller, or has a median of 0
   */
  public static MedianRatio of(double[] a, double[] b, double alpha) {
    RandomDataGenerator random = RandomDataGenerator.of(new Well19937c(SEED));
    double[] first = logMedians(a, random);
    double[] second = logMedians(b, random);
    double[] ratios = new double[DRAWS];
    for (int i = 0; i < DRAWS; i++) {
      ratios[i] = second[i] - first[i];
    }
    Arrays.sort(ratios);
    double value = StatUtils.percentile(b, 50) / StatUtils.percentile(a, 50);
    return new MedianRatio(
        new Estimate(
            value,
            null,
            Math.exp(at(ratios, alpha / 2)),
            Math.exp(at(ratios, 1 - alpha / 2)),
            null),
        StatUtils.variance(first) * a.length,
        StatUtils.variance(second) * b.length);
  }

  private static double at(double[] sorted, double share) {
    double place = share * (sorted.length - 1);
    int low = (int) place;
    int high = Math.min(low + 1, sorted.length - 1);
    return sorted[low] + (place - low) * (sorted[high] - sorted[low]);
  }

  /** Logarithms of the medians of resamples. */
  private static double[] logMedians(double[] figures, RandomDataGenerator random) {
    double[] sorted = figures.clone();
    Arrays.sort(sorted);
    int n = sorted.length;
    if (n < 3 || !(sorted[(n - 1) / 2] > 0)) {
      throw new IllegalArgumentException(
          "a median of %d figures, %s, has no ratio"
              .formatted(n, StatUtils.percentile(sorted, 50)));
    }
    double[] logs = new double[DRAWS];
    for (int i = 0; i < DRAWS; i++) {
      logs[i] = Math.log(median(sorted, random));
    }
    return logs;
  }

  private static double median(double[] sorted, RandomDataGenerator random) {
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
}
