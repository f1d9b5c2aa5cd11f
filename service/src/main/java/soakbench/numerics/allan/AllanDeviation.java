package soakbench.numerics.allan;

import java.util.ArrayList;
import java.util.List;

/**
 * Overlapping Allan deviation of rate readings, NIST SP 1065 (Riley 2008), section 5.2.4, in O(n)
 * for each averaging time by cumulative sums. Gaps split the record; the sums of squares of the
 * pieces are added.
 */
public final class AllanDeviation {
  private AllanDeviation() {}

  /**
   * One point of the curve.
   *
   * @param factor averaging factor m, in readings
   * @param deviation Allan deviation, in the unit of the readings
   * @param terms how many overlapping second differences went into it
   */
  public record Point(int factor, double deviation, long terms) {}

  /**
   * The deviation at the given averaging factors.
   *
   * @param pieces evenly spaced readings, one array for each unbroken piece, no NaN
   * @param factors averaging factors, each at least 1
   * @return one point for each factor for which some piece is long enough (2 m readings), in the
   *     given order
   * @throws IllegalArgumentException if a factor is below 1
   */
  public static List<Point> overlapping(List<double[]> pieces, int[] factors) {
    List<double[]> phases = pieces.stream().map(AllanDeviation::phase).toList();
    List<Point> points = new ArrayList<>();
    for (int m : factors) {
      if (m < 1) {
        throw new IllegalArgumentException("averaging factor " + m + " must be at least 1");
      }
      double sum = 0;
      long terms = 0;
      for (double[] phase : phases) {
        sum += sumOfSquares(phase, m);
        terms += Math.max(0, phase.length - 2 * m);
      }
      if (terms > 0) {
        points.add(new Point(m, Math.sqrt(sum / (2.0 * m * m * terms)), terms));
      }
    }
    return points;
  }

  /** Of all second differences; four sums at a time, because one would wait for itself. */
  static double sumOfSquares(double[] phase, int m) {
    int n = phase.length - 2 * m;
    double a = 0;
    double b = 0;
    double c = 0;
    double d = 0;
    int i = 0;
    for (; i + 3 < n; i += 4) {
      double p = phase[i + 2 * m] - 2 * phase[i + m] + phase[i];
      double q = phase[i + 1 + 2 * m] - 2 * phase[i + 1 + m] + phase[i + 1];
      double r = phase[i + 2 + 2 * m] - 2 * phase[i + 2 + m] + phase[i + 2];
      double s = phase[i + 3 + 2 * m] - 2 * phase[i + 3 + m] + phase[i + 3];
      a += p * p;
      b += q * q;
      c += r * r;
      d += s * s;
    }
    for (; i < n; i++) {
      double p = phase[i + 2 * m] - 2 * phase[i + m] + phase[i];
      a += p * p;
    }
    return a + b + (c + d);
  }

  /** Averaging factors 1, 2, 4 … up to a quarter of the longest piece. */
  public static int[] octaves(List<double[]> pieces) {
    int longest = pieces.stream().mapToInt(p -> p.length).max().orElse(0);
    List<Integer> factors = new ArrayList<>();
    for (int m = 1; 4 * m <= longest; m *= 2) {
      factors.add(m);
    }
    return factors.stream().mapToInt(Integer::intValue).toArray();
  }

  /** Cumulative sums about the mean, which costs no generality and keeps the sums small. */
  static double[] phase(double[] readings) {
    double mean = 0;
    for (double v : readings) {
      mean += v / readings.length;
    }
    double[] phase = new double[readings.length + 1];
    for (int i = 0; i < readings.length; i++) {
      phase[i + 1] = phase[i] + (readings[i] - mean);
    }
    return phase;
  }
}
