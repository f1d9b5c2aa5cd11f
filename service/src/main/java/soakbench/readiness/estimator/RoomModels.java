package soakbench.readiness.estimator;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import soakbench.model.TauPrior;

/** The pairs of time constant and swing that the bank believes possible. */
final class RoomModels {
  /** Bodies in a box of this size take some minutes (common practice, no source). */
  private static final double BODY_S = 700;

  private static final double BODY_SPREAD = 0.5;

  /** One filter stays nearly linear so far to either side of its centre. */
  private static final double CELL = 0.22;

  /** How much earlier soaks are believed to tell of this one. */
  private static final double EARLIER_SHARE = 0.9;

  private static final double[] TAU_S = {220, 360, 590, 970, 1590, 2600};

  private static final double[] WIDE_TAU_S = {250, 520, 1070, 2200};
  private static final double WIDE_CELL = 0.3;

  /** A heating switches on every five to twenty-five minutes (common practice, no source). */
  private static final double SHORTEST_CYCLE_S = 320;

  private static final double LONGEST_CYCLE_S = 1450;

  /** How much all cycles together are believed. */
  private static final double CYCLES = 0.4;

  /** One size does for all: a filter soon follows a swing half or twice as large. */
  private static final double CYCLE_C = 0.3;

  /** So small that a cycle keeps its beat for some eight of its periods. */
  private static final double CYCLE_DAMPING = 0.02;

  private static final List<Swing> SWINGS =
      with(
          cycles(12, CYCLES),
          new Swing(0.003, 900, 1, 0.4),
          new Swing(0.03, 900, 1, 0.1),
          new Swing(0.2, 900, 1, 0.1));

  private static final List<Swing> COARSE_SWINGS =
      with(cycles(5, 0.45), new Swing(0.01, 900, 1, 0.4), new Swing(0.2, 900, 1, 0.15));

  /** The same for all trackers that are calibrated as long. */
  private static final Map<Double, RoomModels> KNOWN = new ConcurrentHashMap<>();

  private final double aheadS;
  private final List<RoomModel> fine;
  private final List<RoomModel> coarse;

  private RoomModels(double aheadS) {
    this.aheadS = aheadS;
    this.fine = models(TAU_S, CELL, SWINGS);
    this.coarse = models(WIDE_TAU_S, WIDE_CELL, COARSE_SWINGS);
  }

  /**
   * What is possible.
   *
   * @param aheadS how far ahead the shift is looked at, s
   */
  static RoomModels of(double aheadS) {
    return KNOWN.computeIfAbsent(aheadS, RoomModels::new);
  }

  /**
   * For a thermometer that tells the temperature.
   *
   * @param earlier what earlier soaks on the same rack say of the time constant; null for nothing
   */
  List<RoomModel> fine(TauPrior earlier) {
    return earlier == null ? fine : with(fine, SWINGS, CELL, earlier);
  }

  /** For one that needs the rates' help: fewer, for each costs more. */
  List<RoomModel> coarse(TauPrior earlier) {
    return earlier == null ? coarse : with(coarse, COARSE_SWINGS, WIDE_CELL, earlier);
  }

  /**
   * Earlier soaks are heeded by who looks ahead alone: the verdict does not depend on other soaks.
   * The general belief keeps a part, so that a soak unlike the earlier ones can say so.
   */
  private List<RoomModel> with(
      List<RoomModel> general, List<Swing> swings, double cell, TauPrior earlier) {
    List<RoomModel> out = new ArrayList<>();
    for (RoomModel model : general) {
      out.add(model.believedAhead((1 - EARLIER_SHARE) * model.prior()));
    }
    double spread = Math.min(cell, Math.log(earlier.factor()));
    for (Swing swing : swings) {
      RoomModel theirs = new RoomModel(earlier.medianS(), spread, swing, 0, aheadS);
      out.add(theirs.believedAhead(EARLIER_SHARE * swing.prior()));
    }
    return List.copyOf(out);
  }

  private List<RoomModel> models(double[] tauS, double cell, List<Swing> swings) {
    double sum = 0;
    for (double tau : tauS) {
      sum += believed(tau);
    }
    List<RoomModel> out = new ArrayList<>();
    for (double tau : tauS) {
      for (Swing swing : swings) {
        out.add(new RoomModel(tau, cell, swing, believed(tau) / sum * swing.prior(), aheadS));
      }
    }
    return List.copyOf(out);
  }

  /** Cycles so close to each other that a heating's period lies next to one of them. */
  private static List<Swing> cycles(int count, double prior) {
    double ratio = Math.pow(LONGEST_CYCLE_S / SHORTEST_CYCLE_S, 1.0 / (count - 1));
    List<Swing> out = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      double periodS = SHORTEST_CYCLE_S * Math.pow(ratio, i);
      out.add(new Swing(CYCLE_C, periodS, CYCLE_DAMPING, prior / count));
    }
    return out;
  }

  private static List<Swing> with(List<Swing> cycles, Swing... others) {
    List<Swing> out = new ArrayList<>(List.of(others));
    out.addAll(cycles);
    return List.copyOf(out);
  }

  private static double believed(double tauS) {
    return Math.exp(-0.5 * Math.pow(Math.log(tauS / BODY_S) / BODY_SPREAD, 2));
  }
}
