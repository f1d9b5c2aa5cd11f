package soakbench.lots;

import java.util.List;
import org.hipparchus.distribution.continuous.TDistribution;
import soakbench.model.Estimate;
import soakbench.numerics.Measured;

/**
 * Several measurements of one quantity that differ by more than their own errors: the
 * random-effects model, its variance between measurements by the method of moments (DerSimonian and
 * Laird, 1986, "Meta-analysis in clinical trials", Controlled Clinical Trials 7, 177 to 188).
 *
 * @param mean weighted mean with its standard error
 * @param betweenVariance variance between measurements beyond their own errors, 0 or more
 * @param count how many measurements
 */
record RandomEffects(Measured mean, double betweenVariance, int count) {

  /**
   * Combines estimates that are known and have a standard error above 0.
   *
   * @throws IllegalArgumentException if there is none
   */
  static RandomEffects of(List<Estimate> estimates) {
    if (estimates.isEmpty()) {
      throw new IllegalArgumentException("no estimate to combine");
    }
    double between = Math.max(0, moments(estimates));
    double weights = 0;
    double sum = 0;
    for (Estimate e : estimates) {
      double weight = 1 / (e.se() * e.se() + between);
      weights += weight;
      sum += weight * e.value();
    }
    Measured mean = new Measured(sum / weights, Math.sqrt(1 / weights));
    return new RandomEffects(mean, between, estimates.size());
  }

  /** (Q - (k - 1)) / (sum w - sum w^2 / sum w); 0 for a single one. */
  private static double moments(List<Estimate> estimates) {
    double w = 0;
    double w2 = 0;
    double wx = 0;
    for (Estimate e : estimates) {
      double weight = 1 / (e.se() * e.se());
      w += weight;
      w2 += weight * weight;
      wx += weight * e.value();
    }
    double q = 0;
    for (Estimate e : estimates) {
      double off = (e.value() - wx / w) / e.se();
      q += off * off;
    }
    int more = estimates.size() - 1;
    return more == 0 ? 0 : (q - more) / (w - w2 / w);
  }

  /**
   * The mean with 95 % limits: Student's t with one degree of freedom less than measurements where
   * more than two differ by more than their errors, since the spread is then known from them alone;
   * else the normal distribution.
   */
  Estimate estimate() {
    boolean spread = count > 2 && betweenVariance > 0;
    double quantile =
        spread ? new TDistribution(count - 1.0).inverseCumulativeProbability(0.975) : 1.959964;
    return Estimate.of(mean.value(), mean.se(), quantile);
  }
}
