package soakbench.drift;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import java.util.function.IntUnaryOperator;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.numerics.Noises;

/** Bins of a soak made from plain functions of time, with known truth. */
public final class MadeSoak {
  static final double NOISE_DPS = 0.01;

  /** Bias of an axis (0 to 2) at a second, deg/s. */
  public interface Bias {
    double at(int axis, double tS, double celsius, double rateCPerS);
  }

  private final int seconds;
  private final DoubleUnaryOperator temperature;
  private Bias bias = (axis, t, c, rate) -> 0.1 * axis;
  private double noiseDps = NOISE_DPS;
  private double flickerDps;
  private double thermometerNoiseC = 0.005;
  private double thermometerStepC;
  private IntUnaryOperator boot = s -> 0;
  private long seed = 1;

  public MadeSoak(int seconds, DoubleUnaryOperator temperature) {
    this.seconds = seconds;
    this.temperature = temperature;
  }

  /** A smooth warm-up of the body, the chip 25 s behind it. */
  public static DoubleUnaryOperator warmUp(double fromC, double toC, double tauS) {
    return t -> toC - (toC - fromC - 1) * Math.exp(-t / tauS) - Math.exp(-t / 25);
  }

  public MadeSoak bias(Bias of) {
    bias = of;
    return this;
  }

  public MadeSoak noise(double whiteDps, double flicker) {
    noiseDps = whiteDps;
    flickerDps = flicker;
    return this;
  }

  public MadeSoak thermometer(double noiseC, double stepC) {
    thermometerNoiseC = noiseC;
    thermometerStepC = stepC;
    return this;
  }

  public MadeSoak boots(IntUnaryOperator of) {
    boot = of;
    return this;
  }

  public MadeSoak seed(long of) {
    seed = of;
    return this;
  }

  public List<Bin> bins() {
    SplittableRandom random = new SplittableRandom(seed);
    double[][] slow = new double[3][];
    for (int axis = 0; axis < 3; axis++) {
      slow[axis] =
          flickerDps > 0
              ? Noises.flicker(seconds, flickerDps, 100 * seed + axis)
              : new double[seconds];
    }
    List<Bin> bins = new ArrayList<>();
    for (int s = 0; s < seconds; s++) {
      double c = temperature.applyAsDouble(s + 0.5);
      double rate = (temperature.applyAsDouble(s + 1) - temperature.applyAsDouble(s));
      Channel[] gyro = new Channel[3];
      for (int axis = 0; axis < 3; axis++) {
        double mean =
            bias.at(axis, s + 0.5, c, rate) + slow[axis][s] + noiseDps * random.nextGaussian();
        double sd = noiseDps * Math.sqrt(10) * (1 + 0.05 * random.nextGaussian());
        gyro[axis] = new Channel(10, mean, sd);
      }
      bins.add(bin(s, thermometer(c, random), gyro));
    }
    return bins;
  }

  private Channel thermometer(double c, SplittableRandom random) {
    double[] readings = new double[10];
    for (int i = 0; i < readings.length; i++) {
      double read = c + thermometerNoiseC * random.nextGaussian();
      readings[i] =
          thermometerStepC > 0 ? Math.rint(read / thermometerStepC) * thermometerStepC : read;
    }
    return Bins.channel(readings);
  }

  private Bin bin(int s, Channel celsius, Channel[] gyro) {
    long second = Bins.START_S + s;
    long us = second * 1_000_000;
    Channel[] none = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    return new Bin(
        "T-0412",
        second,
        us,
        us + 900_000,
        boot.applyAsInt(s),
        celsius,
        gyro,
        none,
        thermometerStepC > 0 ? thermometerStepC : 1e-4,
        1e-4);
  }
}
