package soakbench.demo.unit;

/**
 * One axis of a simulated gyro.
 *
 * @param coefficients bias against temperature about 31 degC, ascending powers, deg/s; four
 *     entries. They hold for the pose and the boot in which a run begins
 * @param lagDpsPerCPerS what a change of temperature adds, deg/s for each degC/s
 * @param settleDps what is added at power-on and dies away, deg/s
 * @param settleS how fast it dies away, s
 * @param whiteDps white noise N: Allan deviation at 1 s, deg/s
 * @param flickerDegPerH flicker noise B: Allan floor / 0.664, deg/h
 * @param walkDpsPerSqrtS rate random walk K, (deg/s)/sqrt(s)
 * @param gravityDpsPerG sensitivity to gravity along x, y, z, deg/s for each g; three entries
 */
public record Axis(
    double[] coefficients,
    double lagDpsPerCPerS,
    double settleDps,
    double settleS,
    double whiteDps,
    double flickerDegPerH,
    double walkDpsPerSqrtS,
    double[] gravityDpsPerG) {

  /** Temperature that the coefficients are about, degC. */
  public static final double REFERENCE_C = 31;

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
    double settling = settleDps == 0 ? 0 : settleDps * Math.exp(-sinceBootS / settleS);
    return curve + lagDpsPerCPerS * rateCPerS + settling;
  }

  /** What a direction of gravity adds, deg/s. */
  public double gravityDps(double[] upG) {
    return gravityDpsPerG[0] * upG[0] + gravityDpsPerG[1] * upG[1] + gravityDpsPerG[2] * upG[2];
  }

  public Axis settling(double dps, double forS) {
    return new Axis(
        coefficients,
        lagDpsPerCPerS,
        dps,
        forS,
        whiteDps,
        flickerDegPerH,
        walkDpsPerSqrtS,
        gravityDpsPerG);
  }
}
