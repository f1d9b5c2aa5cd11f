package soakbench.demo.unit;

/**
 * One axis of a simulated gyro.
 *
 * @param coefficients bias against temperature about 31 degC, ascending powers, deg/s; four
 *     entries. They hold for the pose and the boot in which a run begins
 * @param lagDpsPerCPerS what a change of temperature adds, deg/s for each degC/s
 * @param gravityDpsPerG sensitivity to gravity along x, y, z, deg/s for each g; three entries
 * @param settling what is added at power-on
 * @param noise what the rates scatter and drift by
 */
public record Axis(
    double[] coefficients,
    double lagDpsPerCPerS,
    double[] gravityDpsPerG,
    Settling settling,
    Noise noise) {

  /** Temperature that the coefficients are about, degC. */
  public static final double REFERENCE_C = 31;

  /**
   * What is added at power-on and dies away.
   *
   * @param dps at power-on, deg/s
   * @param timeConstantS how fast it dies away, s
   */
  public record Settling(double dps, double timeConstantS) {
    public static final Settling NONE = new Settling(0, 1);
  }

  /**
   * The coefficients of the noise model of IEEE Std 952.
   *
   * @param whiteDps white noise N: Allan deviation at 1 s, deg/s
   * @param flickerDegPerH flicker noise B: Allan floor / 0.664, deg/h
   * @param walkDpsPerSqrtS rate random walk K, (deg/s)/sqrt(s)
   */
  public record Noise(double whiteDps, double flickerDegPerH, double walkDpsPerSqrtS) {}

  public Axis {
    coefficients = coefficients.clone();
    gravityDpsPerG = gravityDpsPerG.clone();
  }

  @Override
  public double[] coefficients() {
    return coefficients.clone();
  }

  @Override
  public double[] gravityDpsPerG() {
    return gravityDpsPerG.clone();
  }

  /** The part of the bias that temperature and time since power-on make, deg/s. */
  public double biasDps(double temperatureC, double rateCPerS, double sinceBootS) {
    double d = temperatureC - REFERENCE_C;
    double curve =
        coefficients[0] + d * (coefficients[1] + d * (coefficients[2] + d * coefficients[3]));
    double settled =
        settling.dps() == 0 ? 0 : settling.dps() * Math.exp(-sinceBootS / settling.timeConstantS());
    return curve + lagDpsPerCPerS * rateCPerS + settled;
  }

  /** What a direction of gravity adds, deg/s. */
  public double gravityDps(double[] upG) {
    return gravityDpsPerG[0] * upG[0] + gravityDpsPerG[1] * upG[1] + gravityDpsPerG[2] * upG[2];
  }

  public Axis with(Settling other) {
    return new Axis(coefficients, lagDpsPerCPerS, gravityDpsPerG, other, noise);
  }

  /** The same axis with another slope of its bias about 31 degC, deg/s for each degC. */
  Axis withSlope(double dpsPerC) {
    double[] c = coefficients();
    c[1] = dpsPerC;
    return new Axis(c, lagDpsPerCPerS, gravityDpsPerG, settling, noise);
  }
}
