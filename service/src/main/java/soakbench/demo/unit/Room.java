package soakbench.demo.unit;

/**
 * What a room adds to the mean temperature of the surroundings over time, whether or not anybody
 * touches the tracker.
 *
 * @param halfC half the swing by a heating that switches on and off, degC; 0 for none
 * @param periodS length of one heating cycle, s
 * @param phase how far in the cycle the run begins, 0 to 1
 * @param shape how it swings
 * @param driftCPerS how the room warms or cools all the while, degC/s
 */
public record Room(double halfC, double periodS, double phase, Shape shape, double driftCPerS) {
  /** Nothing at all. */
  public static final Room STEADY = new Room(0, 1, 0, Shape.SINE, 0);

  private static final double DRIFT_OVER_S = 3 * 3600;

  /** Fraction of a heating cycle in which the room gets warmer, of a saw tooth. */
  private static final double WARMING_FRACTION = 0.4;

  /** How a room's temperature swings. */
  public enum Shape {
    /** Straight up and more slowly straight down, coldest at phase 0. */
    SAW_TOOTH,
    SINE
  }

  /**
   * @throws IllegalArgumentException if the cycle has no length
   */
  public Room {
    if (!(periodS > 0)) {
      throw new IllegalArgumentException(
          "a heating cycle of " + periodS + " s must be longer than 0");
    }
  }

  /**
   * A room whose heating cycled before the run began.
   *
   * @param halfC half its swing, degC
   */
  public static Room cycling(double halfC, Draw draw) {
    Shape shape = draw.chance(0.5) ? Shape.SAW_TOOTH : Shape.SINE;
    return new Room(halfC, draw.uniform(300, 1500), draw.uniform(0, 1), shape, 0);
  }

  /** The same, warmer or cooler by a degree or two in three hours. */
  public Room drifting(Draw draw) {
    double sign = draw.chance(0.5) ? 1 : -1;
    return new Room(halfC, periodS, phase, shape, sign * draw.uniform(1, 2) / DRIFT_OVER_S);
  }

  /** What it adds at a moment, degC. */
  public double atC(double timeS) {
    double at = timeS / periodS + phase;
    double fraction = at - Math.floor(at);
    double wave = shape == Shape.SINE ? Math.sin(2 * Math.PI * fraction) : sawTooth(fraction);
    return halfC * wave + driftCPerS * timeS;
  }

  private static double sawTooth(double fraction) {
    double up =
        fraction < WARMING_FRACTION
            ? fraction / WARMING_FRACTION
            : (1 - fraction) / (1 - WARMING_FRACTION);
    return 2 * up - 1;
  }
}
