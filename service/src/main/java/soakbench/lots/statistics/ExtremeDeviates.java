package soakbench.lots.statistics;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.StatUtils;

/**
 * Several units that stand out from the rest, also where one hides another: the generalized extreme
 * studentized deviate (B. Rosner, 1983, "Percentage points for a generalized ESD many-outlier
 * procedure", Technometrics 25, 165 to 172; NIST/SEMATECH e-Handbook 1.3.5.17.3). Its limits hold
 * from about 25 figures on and nearly so from 15 on.
 *
 * @param steps the figure that lies farthest out, then the farthest of the rest, and so on; fewer
 *     than asked for where the rest are all alike
 * @param count how many of them stand out, from the first on
 */
public record ExtremeDeviates(List<Step> steps, int count) {
  /** Limits that were worked out: screening asks for the same ones of each figure of a lot. */
  private static final Map<List<Number>, Double> LIMITS = new ConcurrentHashMap<>();

  /**
   * One figure taken out.
   *
   * @param index its place among the figures given
   * @param deviate its distance from the mean of those left, in their standard deviations
   * @param limit the distance that chance seldom passes
   */
  public record Step(int index, double deviate, double limit) {}

  public ExtremeDeviates {
    steps = List.copyOf(steps);
  }

  /**
   * Tests for up to {@code most} figures that stand out.
   *
   * @param figures one for each unit, in any order, no NaN
   * @param alpha how often one may be named where none stands out, between 0 and 1
   * @param most at least 1, at most two less than figures
   * @throws IllegalArgumentException if alpha or most lies outside
   */
  public static ExtremeDeviates of(double[] figures, double alpha, int most) {
    if (!(alpha > 0 && alpha < 1)) {
      throw new IllegalArgumentException("alpha " + alpha + " is not between 0 and 1");
    }
    if (most < 1 || most > figures.length - 2) {
      throw new IllegalArgumentException(
          "%d figures can be tested for 1 to %d that stand out, not for %d"
              .formatted(figures.length, figures.length - 2, most));
    }
    List<Step> steps = new ArrayList<>();
    boolean[] out = new boolean[figures.length];
    int count = 0;
    for (int i = 1; i <= most && differ(left(figures, out)); i++) {
      Step step = farthest(figures, out, limit(figures.length, i, alpha));
      steps.add(step);
      out[step.index()] = true;
      // A later step that passes its limit names all before it: they had hidden one another.
      count = step.deviate() > step.limit() ? i : count;
    }
    return new ExtremeDeviates(steps, count);
  }

  /** Places of the figures that stand out, the farthest first. */
  public List<Integer> outliers() {
    return steps.stream().limit(count).map(Step::index).toList();
  }

  private static boolean differ(double[] left) {
    return StatUtils.min(left) < StatUtils.max(left);
  }

  private static double[] left(double[] figures, boolean[] out) {
    double[] left = new double[figures.length];
    int size = 0;
    for (int i = 0; i < figures.length; i++) {
      if (!out[i]) {
        left[size++] = figures[i];
      }
    }
    return Arrays.copyOf(left, size);
  }

  private static Step farthest(double[] figures, boolean[] out, double limit) {
    double[] left = left(figures, out);
    double mean = StatUtils.mean(left);
    double sd = Math.sqrt(StatUtils.variance(left, mean));
    int farthest = -1;
    double most = -1;
    for (int i = 0; i < figures.length; i++) {
      double off = Math.abs(figures[i] - mean);
      if (!out[i] && off > most) {
        farthest = i;
        most = off;
      }
    }
    return new Step(farthest, most / sd, limit);
  }

  /** Rosner's lambda for step {@code i}, counted from 1, of {@code n} figures. */
  private static double limit(int n, int i, double alpha) {
    return LIMITS.computeIfAbsent(
        List.of(n, i, alpha),
        k -> {
          double p = 1 - alpha / (2 * (n - i + 1));
          double df = n - i - 1;
          double t = new TDistribution(df).inverseCumulativeProbability(p);
          return (n - i) * t / Math.sqrt((df + t * t) * (n - i + 1));
        });
  }
}
