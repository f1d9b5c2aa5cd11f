package soakbench.readiness;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import soakbench.drift.still.BiasBlock;
import soakbench.drift.still.BiasModel;
import soakbench.model.Estimate;
import soakbench.model.TauPrior;
import soakbench.numerics.ExponentialFit;
import soakbench.numerics.Noises;
import soakbench.numerics.RelaxationMixture;
import soakbench.numerics.RelaxationPosterior;
import soakbench.readiness.estimator.Answer;
import soakbench.readiness.estimator.TostInterval;

/** Evidence for tests: of a tracker for which everything holds, with one thing changed. */
final class Evidences {
  double tS = 1500;
  double temperatureC = 31;
  TostInterval rate = TostInterval.about(0.03, 0.02);
  TostInterval[] shift = shift(0.002, 0.003);
  double nearUseDegPerMin = 0.1;
  double movedS = Double.NEGATIVE_INFINITY;
  double gapS;
  String hotReason;
  boolean tooSlow;
  boolean rates = true;
  String correctedInside;
  String endlessTurn;
  String deadGyro;
  RelaxationMixture relaxation = relaxation(31.4, 30.95, 700);
  double followedS = 1200;
  BiasModel[] models = models(0.02);
  double heldS;
  boolean ready;
  Answer.Expected expected;

  static TostInterval[] shift(double value, double half) {
    TostInterval i = TostInterval.about(value, half);
    return new TostInterval[] {i, TostInterval.about(0, half), TostInterval.about(-value, half)};
  }

  /** What twenty minutes of a relaxation say that is now at {@code nowC}. */
  static RelaxationMixture relaxation(double plateauC, double nowC, double tauS) {
    int n = 120;
    double[] t = new double[n];
    double[] y = Noises.white(n, 0.02, 1);
    for (int i = 0; i < n; i++) {
      t[i] = 10 * i;
      double ago = t[i] - 10 * (n - 1);
      y[i] += plateauC + (nowC - plateauC) * Math.exp(-ago / tauS);
    }
    double[] grid = ExponentialFit.logGrid(100, 6400, 25);
    return RelaxationPosterior.of(t, y, grid, TauPrior.general(800, 0.6), 0.002).mixture();
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
    Answer.Temperature course =
        rate == null ? null : new Answer.Temperature(temperatureC, rate, relaxation, followedS);
    return new Evidence(
        tS,
        new Evidence.Temperature(temperatureC, rate, rateReason, course),
        new Evidence.Bias(
            new double[] {0.3, -0.1, 0.05}, models, shifts(), shiftReason, () -> nearUseDegPerMin),
        new Evidence.Lines(rates, tooSlow, gapS, correctedInside, endlessTurn, deadGyro, movedS),
        new Answer.Dwell(heldS > 0, heldS, 60, ready),
        expected,
        hotReason == null ? null : new Heat(Heat.Kind.HOT, temperatureC, 45, hotReason, null));
  }

  private Answer.Shifts shifts() {
    if (shift == null) {
      return null;
    }
    int worst = 0;
    for (int i = 1; i < 3; i++) {
      worst = shift[i].reach() > shift[worst].reach() ? i : worst;
    }
    boolean within = Stream.of(shift).allMatch(s -> s.within(0.010));
    return new Answer.Shifts(
        Stream.of(shift).map(s -> Estimate.of(s.value(), s.half() / 1.645, 1.96)).toList(),
        shift[worst],
        worst,
        within);
  }
}
