package soakbench.model;

import java.io.Serializable;

/**
 * One second of one tracker, derived from its samples and never changed by hand. Arrays have three
 * entries, x y z.
 *
 * @param tracker the tracker's id
 * @param second start of the bin, whole seconds since 1970
 * @param firstUs time of its first sample, microseconds since 1970
 * @param lastUs time of its last sample, microseconds since 1970
 * @param boot how often the tracker was seen to reboot since its soak began
 * @param temperatureC the temperature measured in this second
 * @param gyroDps the rates, deg/s; bias where the bin is still
 * @param accelG the specific force, g
 * @param temperatureStepC smallest difference between two different temperatures in the bin, degC;
 *     NaN where all are the same
 * @param gyroStepDps smallest difference between two different readings of one axis, deg/s; NaN
 *     where all are the same
 */
public record Bin(
    String tracker,
    long second,
    long firstUs,
    long lastUs,
    int boot,
    Channel temperatureC,
    Channel[] gyroDps,
    Channel[] accelG,
    double temperatureStepC,
    double gyroStepDps)
    implements Serializable {

  /**
   * What one channel read within the second.
   *
   * @param count readings; 0 where there was none, then mean and sd are NaN
   * @param mean their mean
   * @param sd their standard deviation (n - 1 in the divisor); NaN below two readings
   */
  public record Channel(int count, double mean, double sd) implements Serializable {
    public static final Channel EMPTY = new Channel(0, Double.NaN, Double.NaN);
  }

  /** The same with another count of reboots. */
  public Bin withBoot(int count) {
    return new Bin(
        tracker,
        second,
        firstUs,
        lastUs,
        count,
        temperatureC,
        gyroDps,
        accelG,
        temperatureStepC,
        gyroStepDps);
  }

  /** The same of another tracker. */
  public Bin of(String other) {
    return new Bin(
        other,
        second,
        firstUs,
        lastUs,
        boot,
        temperatureC,
        gyroDps,
        accelG,
        temperatureStepC,
        gyroStepDps);
  }

  /** Instant at which the bin ends, microseconds since 1970. */
  public long endUs() {
    return (second + 1) * 1_000_000L;
  }

  /** Readings of all channels together. */
  public int readings() {
    int sum = temperatureC.count();
    for (int i = 0; i < 3; i++) {
      sum += gyroDps[i].count() + accelG[i].count();
    }
    return sum;
  }

  /** Readings of the rates; 0 where the bin has none. */
  public int rateCount() {
    return gyroDps[0].count();
  }

  /** The mean rates, deg/s, x y z; NaN where the bin has none. */
  public double[] biasDps() {
    return new double[] {gyroDps[0].mean(), gyroDps[1].mean(), gyroDps[2].mean()};
  }
}
