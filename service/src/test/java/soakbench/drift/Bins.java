package soakbench.drift;

import java.util.SplittableRandom;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Makes seconds of one tracker from simulated readings. */
public final class Bins {
  static final long START_S = 1_772_352_000;

  private final SplittableRandom random;
  private final double[] biasDps = {0.31, -0.12, 0.05};
  private final double[] upG = {0, 0, 1};
  private double noiseDps = 0.02;
  private double stepDps;
  private boolean accelerometer;
  private double temperatureC = 25;
  private int boot;

  public Bins(long seed) {
    random = new SplittableRandom(seed);
  }

  public Bins noise(double dps) {
    noiseDps = dps;
    return this;
  }

  public Bins step(double dps) {
    stepDps = dps;
    return this;
  }

  public Bins accelerometer() {
    accelerometer = true;
    return this;
  }

  public Bins bias(double x, double y, double z) {
    biasDps[0] = x;
    biasDps[1] = y;
    biasDps[2] = z;
    return this;
  }

  public Bins up(double x, double y, double z) {
    upG[0] = x;
    upG[1] = y;
    upG[2] = z;
    return this;
  }

  public Bins at(double celsius) {
    temperatureC = celsius;
    return this;
  }

  public Bins booted(int times) {
    boot = times;
    return this;
  }

  /** A second with this many readings; {@code shakeDps} comes on top of the noise. */
  public Bin second(int second, int readings, double shakeDps) {
    Channel[] gyro = new Channel[3];
    Channel[] accel = new Channel[3];
    double step = Double.NaN;
    for (int axis = 0; axis < 3; axis++) {
      double[] values = new double[readings];
      for (int i = 0; i < readings; i++) {
        double v = biasDps[axis] + Math.hypot(noiseDps, shakeDps) * random.nextGaussian();
        values[i] = stepDps > 0 ? Math.rint(v / stepDps) * stepDps : v;
        double d = i == 0 ? 0 : Math.abs(values[i] - values[i - 1]);
        step = d > 1e-6 && !(step < d) ? d : step;
      }
      gyro[axis] = channel(values);
      accel[axis] = accelerometer ? channel(accel(axis, readings)) : Channel.EMPTY;
    }
    return new Bin(
        "T-0412",
        START_S + second,
        (START_S + second) * 1_000_000,
        (START_S + second) * 1_000_000 + 900_000,
        boot,
        new Channel(readings, temperatureC, 0),
        gyro,
        accel,
        Double.NaN,
        step);
  }

  private double[] accel(int axis, int readings) {
    double[] values = new double[readings];
    for (int i = 0; i < readings; i++) {
      values[i] = upG[axis] + 0.002 * random.nextGaussian();
    }
    return values;
  }

  static Channel channel(double[] values) {
    int n = values.length;
    if (n == 0) {
      return Channel.EMPTY;
    }
    double mean = 0;
    double squares = 0;
    for (double v : values) {
      mean += v / n;
    }
    for (double v : values) {
      squares += (v - mean) * (v - mean);
    }
    return new Channel(n, mean, n < 2 ? Double.NaN : Math.sqrt(squares / (n - 1)));
  }
}
