package soakbench.readiness.estimator;

import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Motion;

/**
 * True temperatures of a body and its chip, second by second, in a room of our own: lumped heat
 * capacities, each second's step exact for surroundings that stay.
 */
final class TrueHeat {
  private final Heating heating;
  private final TrueRoom room;
  private final Events events;
  private final double slowBodyS;
  private final double slowShare;
  private int second;
  private double bodyC;
  private double chipC;
  private double slowC;
  private double selfHeatC;

  /**
   * @param slowBodyS time constant of a second, slower mass about the body, s; 0 for none
   */
  TrueHeat(Heating heating, TrueRoom room, Events events, double slowBodyS) {
    this.heating = heating;
    this.room = room;
    this.events = events;
    this.slowBodyS = slowBodyS;
    this.slowShare = slowBodyS > 0 ? 0.35 : 0;
    bodyC = heating.startC();
    chipC = heating.startC();
    slowC = heating.startC();
    selfHeatC = heating.selfHeatC();
  }

  private TrueHeat(TrueHeat o) {
    this(o.heating, o.room, o.events, o.slowBodyS);
    second = o.second;
    bodyC = o.bodyC;
    chipC = o.chipC;
    slowC = o.slowC;
    selfHeatC = o.selfHeatC;
  }

  TrueHeat copy() {
    return new TrueHeat(this);
  }

  double chipC() {
    return chipC;
  }

  double rateCPerS() {
    return (bodyC + selfHeatC - chipC) / heating.chipS();
  }

  void step() {
    double mid = second + 0.5;
    selfHeatC = events.off(mid) ? 0 : heating.selfHeatC();
    step(events.lidDropC(mid));
    double kick = 0;
    for (Motion m : events.motions()) {
      double overlap = Math.min(m.toS(), second) - Math.max(m.fromS(), second - 1);
      kick += overlap > 0 ? m.kickC() * overlap / (m.toS() - m.fromS()) : 0;
    }
    bodyC += kick;
    chipC += kick;
  }

  /** A second in which nobody touches anything. */
  void step(double lidDropC) {
    double around = heating.plateauC() - heating.selfHeatC() + room.atC(second + 0.5) - lidDropC;
    if (slowBodyS > 0) {
      slowC += (around - slowC) * (1 - Math.exp(-1 / slowBodyS));
    }
    double drive = (1 - slowShare) * around + slowShare * slowC;
    double stay = Math.exp(-1 / heating.bodyS());
    double chipStay = Math.exp(-1 / heating.chipS());
    double share = heating.bodyS() / (heating.bodyS() - heating.chipS());
    double ahead = bodyC - drive;
    chipC =
        (drive + selfHeatC) * (1 - chipStay) + ahead * share * (stay - chipStay) + chipC * chipStay;
    bodyC = drive + ahead * stay;
    second++;
  }
}
