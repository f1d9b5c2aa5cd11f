package soakbench.live.watch;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import org.hipparchus.stat.StatUtils;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Sample;

/**
 * The samples of one second until it closes. The figures are computed at once from the samples in
 * order of time, so that the last digit does not depend on the order of arrival. Not thread-safe.
 */
public final class OpenBin {
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

  /** The samples by time, as they mostly come. */
  List<Sample> inOrder() {
    if (!ascending()) {
      samples.sort(Comparator.comparingLong(Sample::timeUs));
    }
    return samples;
  }

  private boolean ascending() {
    for (int i = 1; i < samples.size(); i++) {
      if (samples.get(i).timeUs() < samples.get(i - 1).timeUs()) {
        return false;
      }
    }
    return true;
  }

  /** The second's figures; there must be a sample. */
  public Bin close(int boot) {
    List<Sample> s = inOrder();
    SecondReadings readings = new SecondReadings(s);
    double gyroStep = Double.NaN;
    for (double[] axis : readings.ascendingDps) {
      gyroStep = least(gyroStep, step(axis, LEAST_STEP_DPS));
    }
    return new Bin(
        tracker,
        second,
        s.get(0).timeUs(),
        s.get(s.size() - 1).timeUs(),
        boot,
        figures(readings.temperaturesC),
        figures(readings.gyroDps),
        figures(readings.accelG),
        step(readings.ascendingC, LEAST_STEP_C),
        gyroStep);
  }

  private static Channel[] figures(double[][] axes) {
    return new Channel[] {figures(axes[0]), figures(axes[1]), figures(axes[2])};
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

  /** Smallest difference between two different ones of ascending values; NaN where all are one. */
  private static double step(double[] sorted, double least) {
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
