package soakbench.demo.unit;

/**
 * How a tracker warms: its body towards its surroundings, its chip towards its body.
 *
 * @param startC chip and body at the start, degC
 * @param plateauC where the chip ends when nothing happens, degC
 * @param selfHeatC how much warmer than its body the chip gets while it has power, degC
 * @param chipS time constant of the chip, s; shorter than the body's
 * @param bodyS time constant of the body, s
 * @param slowS time constant of a slower mass about the body, which makes {@link #SLOW_SHARE} of
 *     what the body warms towards, s; 0 where there is none
 * @param room what the surroundings do over time
 */
public record Heating(
    double startC,
    double plateauC,
    double selfHeatC,
    double chipS,
    double bodyS,
    double slowS,
    Room room) {

  static final double SLOW_SHARE = 0.35;

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
    return new Heating(startC, plateauC, selfHeatC, chipS, bodyS, 0, Room.STEADY);
  }

  /** The same in a room whose heating cycles, at its coldest as the run begins. */
  public Heating cycling(double halfC, double periodS) {
    return in(new Room(halfC, periodS, 0, Room.Shape.SAW_TOOTH, 0));
  }

  public Heating in(Room other) {
    return new Heating(startC, plateauC, selfHeatC, chipS, bodyS, slowS, other);
  }

  /** The same with another body, of this time constant, s. */
  public Heating withBody(double otherS) {
    return new Heating(startC, plateauC, selfHeatC, chipS, otherS, slowS, room);
  }

  /** The same with a slower mass about the body, of this time constant, s. */
  public Heating withSlowMass(double otherS) {
    return new Heating(startC, plateauC, selfHeatC, chipS, bodyS, otherS, room);
  }

  /** What the air about it would be at a moment with its cover as it lies, degC. */
  double surroundingsC(double timeS) {
    return plateauC - selfHeatC + room.atC(timeS);
  }
}
