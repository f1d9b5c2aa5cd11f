package soakbench.demo.unit;

/**
 * The two temperatures of a tracker in steps of one second. Each step is the exact solution for
 * surroundings that stay the same within it (lumped heat capacity, Newton's law of cooling):
 *
 * <pre>body' = (surroundings - body) / bodyS      chip' = (body + selfHeat - chip) / chipS</pre>
 */
public final class ThermalModel {
  /** A bare board's face follows the air within so long, s; a cover does not cool it at once. */
  private static final double BOARD_S = 12;

  private static final double BOARD_DECAY = Math.exp(-1 / BOARD_S);

  private final Heating heating;
  private final Events events;
  private final double bodyDecay;
  private final double chipDecay;
  private final double coupling;

  private long second;
  private double bodyC;
  private double chipC;
  private double selfHeatC;
  private double chipDropC;
  private double slowC;

  public ThermalModel(Heating heating, Events events) {
    this.heating = heating;
    this.events = events;
    this.bodyDecay = Math.exp(-1 / heating.bodyS());
    this.chipDecay = Math.exp(-1 / heating.chipS());
    this.coupling = heating.bodyS() / (heating.bodyS() - heating.chipS());
    this.bodyC = heating.startC();
    this.chipC = heating.startC();
    this.slowC = heating.startC();
    this.selfHeatC = heating.selfHeatC();
  }

  private ThermalModel(ThermalModel other) {
    this(other.heating, other.events);
    second = other.second;
    bodyC = other.bodyC;
    chipC = other.chipC;
    chipDropC = other.chipDropC;
    slowC = other.slowC;
  }

  /** Seconds since the run's start. */
  public long second() {
    return second;
  }

  public double chipC() {
    return chipC;
  }

  public double rateCPerS() {
    return (bodyC + selfHeatC - chipDropC - chipC) / heating.chipS();
  }

  /** Goes on by a second, with all that happens in it. */
  public void step() {
    double mid = second + 0.5;
    selfHeatC = events.poweredOff(mid) ? 0 : heating.selfHeatC();
    step(events.uncoveredDropC(mid), events.uncoveredChipDropC(mid));
    double addedC = addedC(second);
    bodyC += addedC;
    chipC += addedC;
  }

  /** This moment's temperatures, to see where they go if nobody touches anything. */
  public ThermalModel copy() {
    return new ThermalModel(this);
  }

  /** Goes on by a second in which nobody touches anything and the cover stays as it is. */
  public void step(double uncoveredDropC, double uncoveredChipDropC) {
    chipDropC = uncoveredChipDropC + (chipDropC - uncoveredChipDropC) * BOARD_DECAY;
    double mid = second + 0.5;
    double surroundings = drivingC(heating.surroundingsC(mid) - uncoveredDropC);
    double ahead = bodyC - surroundings;
    chipC =
        (surroundings + selfHeatC - chipDropC) * (1 - chipDecay)
            + ahead * coupling * (bodyDecay - chipDecay)
            + chipC * chipDecay;
    bodyC = surroundings + ahead * bodyDecay;
    second++;
  }

  /** What the body warms towards in a second in which the air about it is so warm, degC. */
  private double drivingC(double airC) {
    if (heating.slowS() == 0) {
      return airC;
    }
    slowC += (airC - slowC) * (1 - Math.exp(-1 / heating.slowS()));
    return airC + Heating.SLOW_SHARE * (slowC - airC);
  }

  private double addedC(long from) {
    double addedC = 0;
    for (Motion motion : events.motions()) {
      double overlap = Math.min(motion.toS(), from + 1) - Math.max(motion.fromS(), from);
      if (overlap > 0) {
        addedC += motion.addedC() * overlap / motion.lengthS();
      }
    }
    return addedC;
  }
}
