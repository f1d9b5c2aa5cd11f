package soakbench.lots.statistics;

import java.util.Arrays;
import soakbench.model.Estimate;

/**
 * How many times as large the figures of one group are as those of another: the ratio of their
 * medians, with limits by the bootstrap's percentiles.
 *
 * @param ratio median of the second by median of the first, with its limits; it has no standard
 *     error, as its limits are far from symmetric
 * @param first variance of the logarithm of the first median, times the first group's size
 * @param second the same of the second
 */
public record MedianRatio(Estimate ratio, double first, double second) {

  /**
   * The ratio.
   *
   * @param a medians of one group, of a stream of its own
   * @param b of another
   * @param alpha how often limits shall miss, 0.05 for one pair alone
   */
  public static MedianRatio of(MedianDraws a, MedianDraws b, double alpha) {
    double[] ratios = new double[MedianDraws.DRAWS];
    for (int i = 0; i < ratios.length; i++) {
      ratios[i] = b.log(i) - a.log(i);
    }
    Arrays.sort(ratios);
    double low = Math.exp(at(ratios, alpha / 2));
    double high = Math.exp(at(ratios, 1 - alpha / 2));
    return new MedianRatio(
        new Estimate(b.median() / a.median(), null, low, high, null),
        a.logVariance() * a.count(),
        b.logVariance() * b.count());
  }

  private static double at(double[] sorted, double share) {
    double place = share * (sorted.length - 1);
    int low = (int) place;
    int high = Math.min(low + 1, sorted.length - 1);
    return sorted[low] + (place - low) * (sorted[high] - sorted[low]);
  }
}
