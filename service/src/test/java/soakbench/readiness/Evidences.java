package soakbench.readiness;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.drift.still.BiasBlock;
import soakbench.drift.still.BiasModel;
import soakbench.model.TauPrior;
import soakbench.numerics.ExponentialFit;
import soakbench.numerics.Noises;
import soakbench.numerics.RelaxationPosterior;
import soakbench.thermal.RoomOutlook;

/** Evidence for tests: of a tracker for which everything holds, with one thing changed. */
final class Evidences {
  double tS = 1500;
  double temperatureC = 31;
  TostInterval rate = new TostInterval(0.03, 0.02);
  TostInterval[] shift = shift(0.002, 0.003);
  int vetoed = -1;
  double nearUseDegPerMin = 0.1;
  double movedS = Double.NEGATIVE_INFINITY;
  double gapS;
  double turnedS = Double.NEGATIVE_INFINITY;
  String hotReason;
  boolean tooSlow;
  boolean rates = true;
  String correctedInside;
  String endlessTurn;
  int deadAxis = -1;
  Optional<RelaxationPosterior> tail = Optional.of(tail(31.4, 30.95, 700));
  double tailSpanS = 1200;
  BiasModel[] models = models(0.02);

  static TostInterval[] shift(double value, double half) {
    TostInterval i = new TostInterval(value, half);
    return new TostInterval[] {i, new TostInterval(0, half), new TostInterval(-value, half)};
  }

  /** What twenty minutes of a relaxation say that is now at {@code nowC}. */
  static RelaxationPosterior tail(double plateauC, double nowC, double tauS) {
    int n = 120;
    double[] t = new double[n];
    double[] y = Noises.white(n, 0.02, 1);
    for (int i = 0; i < n; i++) {
      t[i] = 10 * i;
      double ago = t[i] - 10 * (n - 1);
      y[i] += plateauC + (nowC - plateauC) * Math.exp(-ago / tauS);
    }
    return RelaxationPosterior.of(
        t, y, ExponentialFit.logGrid(100, 6400, 25), TauPrior.general(800, 0.6), 0.002);
  }

  /** Three axes with the same coefficient, deg/s per degC, known well. */
  static BiasModel[] models(double slope) {
    List<BiasBlock> blocks = new ArrayList<>();
    for (int i = 0; i < 40; i++) {
      double c = 31 - 8 * Math.exp(-30 * i / 600.0);
      double b = slope * (c - 31);
      blocks.add(new BiasBlock(30 * i + 15, 30, c, new double[] {b, b, b}, 0));
    }
    BiasModel m = BiasModel.of(blocks, 0, 1, 31, 0.005, 0.0005, null);
    return new BiasModel[] {m, m, m};
  }

  Evidence make() {
    String rateReason = rate == null ? "less than a minute of temperatures" : null;
    String shiftReason = shift == null ? "two minutes of lying still are needed first" : null;
    RoomOutlook outlook = tail.map(RoomOutlook::ofSteadyRoom).orElse(null);
    Evidence.FitWindow window = new Evidence.FitWindow(tail, 0, tailSpanS, outlook);
    return new Evidence(
        tS,
        new Evidence.Temperature(temperatureC, rate, rateReason, turnedS, window),
        new Evidence.Bias(
            new double[] {0.3, -0.1, 0.05}, models, shift, shiftReason, vetoed, nearUseDegPerMin),
        new Evidence.Lines(rates, tooSlow, gapS, correctedInside, endlessTurn, deadAxis),
        movedS,
        hotReason == null ? null : new Heat(Heat.Kind.HOT, temperatureC, 45, hotReason, null));
  }
}
