package soakbench.lots;

import java.util.List;
import soakbench.model.Estimate;
import soakbench.numerics.Measured;
import soakbench.numerics.StudentLimits;

/**
 * Several soaks' values of one quantity that differ by more than their own errors: the
 * random-effects model, its variance between soaks by the method of moments (DerSimonian and Laird,
 * 1986, "Meta-analysis in clinical trials", Controlled Clinical Trials 7, 177 to 188). An error
 * that all soaks repeat is not averaged away: of each cause the weighted mean of what it does to
 * them stays, however many they are.
 *
 * @param mean weighted mean with its standard error
 * @param betweenVariance variance between soaks beyond their errors, 0 or more
 * @param degreesOfFreedom by which the mean's standard error is known (Satterthwaite, 1946,
 *     Biometrics Bulletin 2, 110 to 114): few soaks know little of how much they differ
 */
record RandomEffects(Measured mean, double betweenVariance, double degreesOfFreedom) {

  /**
   * Combines soaks.
   *
   * @throws IllegalArgumentException if there is none
   */
  static RandomEffects of(List<Part> parts) {
    if (parts.isEmpty()) {
      throw new IllegalArgumentException("nothing to combine");
    }
    double between = Math.max(0, moments(parts));
    double[] shares = shares(parts, between);
    double value = 0;
    double own = 0;
    double spread = 0;
    double squares = 0;
    for (int i = 0; i < shares.length; i++) {
      Part part = parts.get(i);
      double variance = shares[i] * shares[i] * part.ownVariance();
      value += shares[i] * part.value();
      own += variance;
      spread += shares[i] * shares[i] * between;
      squares += variance * variance / StudentLimits.degreesOfFreedom(part.limitsSe());
    }
    double total = own + spread + repeated(parts, shares);
    // Where several scatter by more than their errors, how much is known from them alone.
    int more = parts.size() - 1;
    squares = more > 1 && between > 0 ? square(own + spread) / more : squares + square(spread);
    double degrees = squares == 0 ? Double.POSITIVE_INFINITY : total * total / squares;
    return new RandomEffects(new Measured(value, Math.sqrt(total)), between, degrees);
  }

  private static double square(double v) {
    return v * v;
  }

  /** How much each counts: inversely to all of its variance; they sum to 1. */
  private static double[] shares(List<Part> parts, double between) {
    double[] shares = parts.stream().mapToDouble(p -> 1 / (p.variance() + between)).toArray();
    double sum = 0;
    for (double share : shares) {
      sum += share;
    }
    for (int i = 0; i < shares.length; i++) {
      shares[i] /= sum;
    }
    return shares;
  }

  /** What the repeated errors leave of variance in the mean. */
  private static double repeated(List<Part> parts, double[] shares) {
    double variance = 0;
    for (double[] sds : Part.causes(parts).values()) {
      double left = 0;
      for (int i = 0; i < shares.length; i++) {
        left += shares[i] * sds[i];
      }
      variance += left * left;
    }
    return variance;
  }

  /**
   * (Q - E) / (sum w - sum w^2 / sum w), with w of the soaks' own errors, and E what Q would be if
   * they did not differ: k - 1, and what repeated errors do to some soaks more than to others. 0
   * for a single one.
   */
  private static double moments(List<Part> parts) {
    double w = 0;
    double w2 = 0;
    for (Part p : parts) {
      w += 1 / p.ownVariance();
      w2 += 1 / (p.ownVariance() * p.ownVariance());
    }
    double expected = parts.size() - 1.0;
    for (double[] sds : Part.causes(parts).values()) {
      expected += scatter(parts, sds);
    }
    double[] values = parts.stream().mapToDouble(Part::value).toArray();
    return parts.size() == 1 ? 0 : (scatter(parts, values) - expected) / (w - w2 / w);
  }

  /** Weighted sum of squares about the weighted mean. */
  private static double scatter(List<Part> parts, double[] x) {
    double w = 0;
    double wx = 0;
    for (int i = 0; i < x.length; i++) {
      w += 1 / parts.get(i).ownVariance();
      wx += x[i] / parts.get(i).ownVariance();
    }
    double sum = 0;
    for (int i = 0; i < x.length; i++) {
      sum += (x[i] - wx / w) * (x[i] - wx / w) / parts.get(i).ownVariance();
    }
    return sum;
  }

  /** The mean with 95 % limits, of Student's t with its degrees of freedom. */
  Estimate estimate() {
    return Estimate.of(mean.value(), mean.se(), StudentLimits.limitsSe(degreesOfFreedom));
  }
}
