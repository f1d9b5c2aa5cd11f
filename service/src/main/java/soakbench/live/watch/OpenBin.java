package soakbench.live.watch;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.stream.IntStream;
import org.hipparchus.stat.StatUtils;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Sample;

/**
 * The samples of one second until it closes. The figures are computed at once from the samples in
 * order of time, so that the last digit does not depend on the order of arrival. Not thread-safe.
 */
public final class OpenBin {
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

  private static final double LEAST_STEP_DPS = 1e-6;
  private static final double LEAST_STEP_C = 1e-5;

  private final String tracker;
  private final long second;
  private final List<Sample> samples = new ArrayList<>();

  /**
   * @param second whole seconds since 1970
   */
  public OpenBin(String tracker, long second) {
    this.tracker = tracker;
    this.second = second;
  }

  /** Takes a sample of this second. */
  public void add(Sample sample) {
    samples.add(sample);
  }

  int size() {
    return samples.size();
  }

  /** The samples by time. */
  List<Sample> inOrder() {
    samples.sort(Comparator.comparingLong(Sample::timeUs));
    return samples;
  }

  /** The second's figures; there must be a sample. */
  public Bin close(int boot) {
    List<Sample> s = inOrder();
    double[] temperatures = believable(measured(s));
    int wild = wildReading(s);
    double[][] gyro = new double[3][];
    double[][] accel = new double[3][];
    for (int axis = 0; axis < 3; axis++) {
      gyro[axis] = channel(s, axis, wild);
      accel[axis] = channel(s, 3 + axis, -1);
    }
    double gyroStep = Double.NaN;
    for (double[] axis : gyro) {
      gyroStep = least(gyroStep, step(axis, LEAST_STEP_DPS));
    }
    return new Bin(
        tracker,
        second,
        s.get(0).timeUs(),
        s.get(s.size() - 1).timeUs(),
        boot,
        figures(temperatures),
        new Channel[] {figures(gyro[0]), figures(gyro[1]), figures(gyro[2])},
        new Channel[] {figures(accel[0]), figures(accel[1]), figures(accel[2])},
        step(temperatures, LEAST_STEP_C),
        gyroStep);
  }

  private static double[] measured(List<Sample> samples) {
    return samples.stream()
        .filter(Sample::measuredTemperature)
        .mapToDouble(Sample::temperatureC)
        .toArray();
  }

  private static double[] believable(double[] temperatures) {
    if (temperatures.length < 3) {
      return temperatures;
    }
    double[] sorted = temperatures.clone();
    Arrays.sort(sorted);
    double median = sorted[sorted.length / 2];
    return Arrays.stream(temperatures).filter(c -> Math.abs(c - median) <= WILD_C).toArray();
  }

  private static double[] channel(List<Sample> samples, int index, int without) {
    return IntStream.range(0, samples.size())
        .filter(i -> i != without)
        .mapToDouble(i -> value(samples.get(i), index))
        .filter(v -> !Double.isNaN(v))
        .toArray();
  }

  /** Index of the one reading whose rates can't be, or -1 where there is none or more than one. */
  private static int wildReading(List<Sample> samples) {
    int wild = -1;
    for (int axis = 0; axis < 3; axis++) {
      double[] sorted = channel(samples, axis, -1);
      if (sorted.length < 5) {
        return -1;
      }
      Arrays.sort(sorted);
      double median = sorted[sorted.length / 2];
      double limit = Math.min(WILD_DPS, alone(sorted, median));
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

  /** Count, mean and standard deviation of readings without NaN. */
  static Channel figures(double[] values) {
    int n = values.length;
    if (n == 0) {
      return Channel.EMPTY;
    }
    double mean = StatUtils.mean(values);
    double sd = n < 2 ? Double.NaN : Math.sqrt(StatUtils.variance(values, mean));
    return new Channel(n, mean, sd);
  }

  /** Smallest difference between two different values; NaN where all are the same. */
  private static double step(double[] values, double least) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    double step = Double.NaN;
    for (int i = 1; i < sorted.length; i++) {
      double d = sorted[i] - sorted[i - 1];
      step = d > least ? least(step, d) : step;
    }
    return step;
  }

  private static double least(double a, double b) {
    return Double.isNaN(a) ? b : Double.isNaN(b) ? a : Math.min(a, b);
  }
}
