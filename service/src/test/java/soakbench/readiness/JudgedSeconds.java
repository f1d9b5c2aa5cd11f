package soakbench.readiness;

import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/** Seconds of a tracker whose temperature and bias are known in closed form. */
final class JudgedSeconds {
  static final long START_S = 1_772_352_000;
  private static final double NOISE_DPS = 0.02;
  private static final int READINGS = 10;

  private final SplittableRandom random = new SplittableRandom(12);
  private final DoubleUnaryOperator celsius;
  private final double slopeDpsPerC;
  private double shakeDps;

  /**
   * @param celsius temperature by the time since the soak began, degC; NaN for none
   * @param slopeDpsPerC coefficient of x; y has its negative, z none
   */
  JudgedSeconds(DoubleUnaryOperator celsius, double slopeDpsPerC) {
    this.celsius = celsius;
    this.slopeDpsPerC = slopeDpsPerC;
  }

  JudgedSeconds shaken(double dps) {
    shakeDps = dps;
    return this;
  }

  /** The bin of one second. */
  Bin at(int second) {
    double c = celsius.applyAsDouble(second + 0.5);
    double known = Double.isNaN(c) ? 30 : c;
    double b = slopeDpsPerC * (known - 30);
    Channel[] gyro = {axis(0.3 + b), axis(-0.1 - b), axis(0.05)};
    Channel[] none = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    Channel temperature =
        Double.isNaN(c)
            ? Channel.EMPTY
            : new Channel(READINGS, c + 0.003 * random.nextGaussian(), 0.01);
    long us = (START_S + second) * 1_000_000;
    return new Bin(
        "T-1", START_S + second, us, us + 900_000, 0, temperature, gyro, none, 0.004, 0.0038);
  }

  private Channel axis(double dps) {
    double sd = Math.hypot(NOISE_DPS, shakeDps);
    return new Channel(READINGS, dps + sd / Math.sqrt(READINGS) * random.nextGaussian(), sd);
  }
}
