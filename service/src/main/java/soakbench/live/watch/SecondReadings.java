package soakbench.live.watch;

import java.util.Arrays;
import java.util.List;
import soakbench.model.Sample;

/**
 * The readings of one second by channel, without those that can't be. In plain loops over arrays,
 * for every reading of every tracker goes through here.
 */
final class SecondReadings {
  /** A temperature this far from the second's median is a misreading, degC. */
  private static final double WILD_C = 5;

  /**
   * A lone reading this far from the second's median is a misreading: no tracker starts and stops
   * turning like that between two readings, deg/s.
   */
  private static final double WILD_DPS = 100;

  /**
   * So is one that is as many times as far off as the next farthest, where five or eight readings
   * show how far those lie: of even noise fewer than one second in a thousand has such, and it
   * loses nothing by it. What is moved by a hand is so for longer than a reading.
   */
  private static final double ALONE_OF_FIVE = 8;

  private static final double ALONE_OF_EIGHT = 4;

  /** A coarse step makes lone readings of less, deg/s. */
  private static final double LEAST_ALONE_DPS = 0.2;

  /** Temperatures that were measured and are to be believed, degC, by time. */
  final double[] temperaturesC;

  /** The same, ascending. */
  final double[] ascendingC;

  /** Rates that are to be believed, deg/s, x y z, by time. */
  final double[][] gyroDps;

  /** The same, ascending. */
  final double[][] ascendingDps;

  /** Specific forces, g, x y z, by time. */
  final double[][] accelG;

  /**
   * @param samples by time
   */
  SecondReadings(List<Sample> samples) {
    temperaturesC = believable(measured(samples));
    ascendingC = ascending(temperaturesC);
    accelG = channels(samples, 3, -1);
    double[][] gyro = channels(samples, 0, -1);
    double[][] sorted = ascending(gyro);
    int wild = wildReading(samples, sorted);
    gyroDps = wild < 0 ? gyro : channels(samples, 0, wild);
    ascendingDps = wild < 0 ? sorted : ascending(gyroDps);
  }

  private static double[] measured(List<Sample> samples) {
    double[] out = new double[samples.size()];
    int n = 0;
    for (Sample s : samples) {
      if (s.measuredTemperature()) {
        out[n++] = s.temperatureC();
      }
    }
    return Arrays.copyOf(out, n);
  }

  private static double[] believable(double[] temperatures) {
    if (temperatures.length < 3) {
      return temperatures;
    }
    double[] sorted = ascending(temperatures);
    double median = sorted[sorted.length / 2];
    if (sorted[sorted.length - 1] - median <= WILD_C && median - sorted[0] <= WILD_C) {
      return temperatures;
    }
    return Arrays.stream(temperatures).filter(c -> Math.abs(c - median) <= WILD_C).toArray();
  }

  /** Three channels from the first on, each without what is not known, and without a reading. */
  private static double[][] channels(List<Sample> samples, int first, int without) {
    double[][] out = new double[3][];
    for (int axis = 0; axis < 3; axis++) {
      out[axis] = channel(samples, first + axis, without);
    }
    return out;
  }

  private static double[] channel(List<Sample> samples, int index, int without) {
    double[] out = new double[samples.size()];
    int n = 0;
    for (int i = 0; i < samples.size(); i++) {
      double v = value(samples.get(i), index);
      if (i != without && !Double.isNaN(v)) {
        out[n++] = v;
      }
    }
    return Arrays.copyOf(out, n);
  }

  private static double[] ascending(double[] values) {
    double[] out = values.clone();
    Arrays.sort(out);
    return out;
  }

  private static double[][] ascending(double[][] axes) {
    return new double[][] {ascending(axes[0]), ascending(axes[1]), ascending(axes[2])};
  }

  /**
   * Index of the one reading whose rates can't be, or -1 where there is none or more than one.
   *
   * @param axes known rates of each axis, ascending
   */
  private static int wildReading(List<Sample> samples, double[][] axes) {
    int wild = -1;
    for (int axis = 0; axis < 3; axis++) {
      double[] sorted = axes[axis];
      int n = sorted.length;
      if (n < 5) {
        return -1;
      }
      double median = sorted[n / 2];
      double limit = Math.min(WILD_DPS, alone(sorted, median));
      if (sorted[n - 1] - median <= limit && median - sorted[0] <= limit) {
        continue;
      }
      for (int i = 0; i < samples.size(); i++) {
        if (Math.abs(value(samples.get(i), axis) - median) > limit && i != wild) {
          if (wild >= 0) {
            return -1;
          }
          wild = i;
        }
      }
    }
    return wild;
  }

  /** How far off the median only a reading is that is alone there, deg/s. */
  private static double alone(double[] sorted, double median) {
    int n = sorted.length;
    double low = median - sorted[0];
    double high = sorted[n - 1] - median;
    double next =
        low > high ? Math.max(high, median - sorted[1]) : Math.max(low, sorted[n - 2] - median);
    double times = n < 8 ? ALONE_OF_FIVE : ALONE_OF_EIGHT;
    return Math.max(LEAST_ALONE_DPS, times * next);
  }

  private static double value(Sample s, int index) {
    return switch (index) {
      case 0 -> s.gxDps();
      case 1 -> s.gyDps();
      case 2 -> s.gzDps();
      case 3 -> s.axG();
      case 4 -> s.ayG();
      default -> s.azG();
    };
  }
}
