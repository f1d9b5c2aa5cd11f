package soakbench.demo.unit;

import java.util.List;

/**
 * What one tracker is like, whatever happens to it.
 *
 * @param id what it calls itself
 * @param lot where its IMU comes from
 * @param axes x, y, z
 * @param bootDps standard deviation of the offset that each further boot brings, deg/s
 * @param readout what its figures are rounded to
 * @param skewPpm how fast its clock runs, parts per million
 */
public record SimulatedUnit(
    String id, String lot, List<Axis> axes, double bootDps, Readout readout, double skewPpm) {

  /**
   * What a unit makes of what it measures.
   *
   * @param thermometerStepC step of its thermometer, degC
   * @param thermometerNoiseC standard deviation of one reading, degC
   * @param thermometerEveryS how often it is read, s; lines between say the same; 0 for each line
   * @param gyroStepDps step of its rates, deg/s
   * @param hasAccelerometer whether it prints an accelerometer
   */
  public record Readout(
      double thermometerStepC,
      double thermometerNoiseC,
      double thermometerEveryS,
      double gyroStepDps,
      boolean hasAccelerometer) {

    /** A thermometer that is read for each line. */
    public Readout(
        double thermometerStepC,
        double thermometerNoiseC,
        double gyroStepDps,
        boolean hasAccelerometer) {
      this(thermometerStepC, thermometerNoiseC, 0, gyroStepDps, hasAccelerometer);
    }
  }

  /**
   * @throws IllegalArgumentException if there are not three axes
   */
  public SimulatedUnit {
    axes = List.copyOf(axes);
    if (axes.size() != 3) {
      throw new IllegalArgumentException(id + ": a gyro has 3 axes, not " + axes.size());
    }
  }

  SimulatedUnit withAxes(List<Axis> others) {
    return new SimulatedUnit(id, lot, others, bootDps, readout, skewPpm);
  }

  /** The same unit with a thermometer of this step, degC. */
  public SimulatedUnit withThermometer(double stepC) {
    return withThermometer(stepC, readout.thermometerEveryS);
  }

  /** The same unit with a thermometer of this step, degC, that is read every so many seconds. */
  public SimulatedUnit withThermometer(double stepC, double everyS) {
    Readout r = readout;
    return with(new Readout(stepC, r.thermometerNoiseC, everyS, r.gyroStepDps, r.hasAccelerometer));
  }

  private SimulatedUnit with(Readout other) {
    return new SimulatedUnit(id, lot, axes, bootDps, other, skewPpm);
  }

  /** The greatest slope of any axis about 31 degC, deg/s for each degC, not negative. */
  double steepestDpsPerC() {
    return axes.stream().mapToDouble(a -> Math.abs(a.coefficients()[1])).max().orElseThrow();
  }
}
