package soakbench.numerics.allan;

import java.util.ArrayList;
import java.util.List;

/**
 * Overlapping Allan deviation of readings from which a known ramp was taken off, without those
 * second differences in which the ramp makes more than so much. What is left out depends on the
 * ramp alone, so nothing is chosen by the noise.
 */
public final class SettledAllan {
  private final List<double[]> phases;
  private final List<double[]> ramps;

  /**
   * Makes ready.
   *
   * @param pieces evenly spaced readings without the ramp, one array for each unbroken piece, no
   *     NaN
   * @param ramps what was taken off each reading, likewise
   */
  public SettledAllan(List<double[]> pieces, List<double[]> ramps) {
    this.phases = pieces.stream().map(AllanDeviation::phase).toList();
    this.ramps = ramps.stream().map(AllanDeviation::phase).toList();
  }

  /**
   * A point.
   *
   * @param factor averaging factor m, in readings
   * @param deviation Allan deviation, in the unit of the readings; NaN without terms
   * @param runs how many second differences each unbroken run of them had
   */
  public record Point(int factor, double deviation, int[] runs) {

    /** Second differences in all. */
    public long terms() {
      long sum = 0;
      for (int run : runs) {
        sum += run;
      }
      return sum;
    }
  }

  /** The deviation with all second differences; NaN where no piece is long enough. */
  public double deviation(int m) {
    double sum = 0;
    long terms = 0;
    for (double[] phase : phases) {
      sum += AllanDeviation.sumOfSquares(phase, m);
      terms += Math.max(0, phase.length - 2 * m);
    }
    return Math.sqrt(sum / (2.0 * m * m * terms));
  }

  /**
   * The deviation without the ramp's.
   *
   * @param m averaging factor, at least 1
   * @param most greatest part of the ramp in a second difference, as a deviation
   */
  public Point at(int m, double most) {
    double limit = most * m * Math.sqrt(2);
    double sum = 0;
    long terms = 0;
    List<Integer> runs = new ArrayList<>();
    for (int p = 0; p < phases.size(); p++) {
      double[] phase = phases.get(p);
      double[] ramp = ramps.get(p);
      int run = 0;
      for (int i = 0; i + 2 * m < phase.length; i++) {
        if (Math.abs(ramp[i + 2 * m] - 2 * ramp[i + m] + ramp[i]) <= limit) {
          double d = phase[i + 2 * m] - 2 * phase[i + m] + phase[i];
          sum += d * d;
          run++;
        } else {
          terms += close(runs, run);
          run = 0;
        }
      }
      terms += close(runs, run);
    }
    int[] lengths = runs.stream().mapToInt(Integer::intValue).toArray();
    return new Point(m, Math.sqrt(sum / (2.0 * m * m * terms)), lengths);
  }

  private static int close(List<Integer> runs, int run) {
    if (run > 0) {
      runs.add(run);
    }
    return run;
  }
}
