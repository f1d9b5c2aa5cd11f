package soakbench.demo.unit;

import java.util.List;
import java.util.SplittableRandom;

/** What a simulated gyro reads: bias, motion, the Earth, noise. */
public final class Gyro {
  private final SimulatedUnit unit;
  private final List<LowFrequencyNoise> slow;
  private final double[] whiteDps = new double[3];
  private final double[] bootDps = new double[3];
  private final double[] poseDps = new double[3];
  private final SplittableRandom white;
  private final SplittableRandom boots;
  private boolean booted;

  public Gyro(SimulatedUnit unit, double rateHz, Attitude attitude, SplittableRandom random) {
    this.unit = unit;
    white = random.split();
    boots = random.split();
    slow = unit.axes().stream().map(axis -> new LowFrequencyNoise(axis, random.split())).toList();
    for (int i = 0; i < 3; i++) {
      // White noise of density N, read for 1 / rate each time, has this deviation.
      whiteDps[i] = unit.axes().get(i).noise().whiteDps() * Math.sqrt(rateHz);
      poseDps[i] = poseDps(i, attitude);
    }
  }

  /** A boot beside the first has an offset of its own. */
  public void boot() {
    for (int i = 0; booted && i < 3; i++) {
      bootDps[i] = unit.bootDps() * boots.nextGaussian();
    }
    booted = true;
  }

  /** Goes on by a second. */
  public void step() {
    for (LowFrequencyNoise noise : slow) {
      noise.step();
    }
  }

  /** One reading of one axis, deg/s. */
  public double readDps(
      int i, Attitude attitude, double chipC, double rateCPerS, double sinceBootS) {
    double value =
        unit.axes().get(i).biasDps(chipC, rateCPerS, sinceBootS)
            + poseDps(i, attitude)
            - poseDps[i]
            + bootDps[i]
            + attitude.rateDps(i)
            + slow.get(i).dps()
            + whiteDps[i] * white.nextGaussian();
    double step = unit.readout().gyroStepDps();
    return step > 0 ? Math.rint(value / step) * step : value;
  }

  private double poseDps(int i, Attitude attitude) {
    return unit.axes().get(i).gravityDps(attitude.upG()) + attitude.earthDps(i);
  }
}
