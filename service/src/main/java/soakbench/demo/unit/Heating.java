package soakbench.demo.unit;

/**
 * How a tracker warms: its body towards its surroundings, its chip towards its body.
 *
 * @param startC chip and body at the start, degC
 * @param plateauC where the chip ends when nothing happens, degC
 * @param selfHeatC how much warmer than its body the chip gets while it has power, degC
 * @param chipS time constant of the chip, s; shorter than the body's
 * @param bodyS time constant of the body, s
 * @param cycleC half the swing of the room's temperature by its heating, degC; 0 for a steady room
 * @param cycleS length of one heating cycle, s
 */
public record Heating(
    double startC,
    double plateauC,
    double selfHeatC,
    double chipS,
    double bodyS,
    double cycleC,
    double cycleS) {

  /** Part of a heating cycle in which the room gets warmer. */
  private static final double WARMING_PART = 0.4;

  /**
   * @throws IllegalArgumentException if the chip is not quicker than the body
   */
  public Heating {
    if (!(chipS > 0 && bodyS > chipS)) {
      throw new IllegalArgumentException(
          "a chip's time constant of " + chipS + " s must lie between 0 and the body's, " + bodyS);
    }
  }

  /** A steady room. */
  public static Heating steady(
      double startC, double plateauC, double selfHeatC, double chipS, double bodyS) {
    return new Heating(startC, plateauC, selfHeatC, chipS, bodyS, 0, 1);
  }

  public Heating cycling(double amplitudeC, double periodS) {
    return new Heating(startC, plateauC, selfHeatC, chipS, bodyS, amplitudeC, periodS);
  }

  /** What the room's heating adds to the surroundings: a saw tooth about 0, degC. */
  double roomC(double timeS) {
    if (cycleC == 0) {
      return 0;
    }
    double phase = timeS / cycleS - Math.floor(timeS / cycleS);
    double part = phase < WARMING_PART ? phase / WARMING_PART : (1 - phase) / (1 - WARMING_PART);
    return cycleC * (2 * part - 1);
  }
}
