package soakbench.demo;

import java.util.SplittableRandom;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.ThermalModel;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.readiness.Heat.Kind;
import soakbench.readiness.Judge;
import soakbench.readiness.Readiness;

/**
 * A simulated tracker's temperatures, judged second by second without its rates, and held against
 * when it truly passes the limit.
 *
 * @param what it was
 * @param passesS second at which its chip passes the limit; -1 where it never does
 * @param warnedS second of the first verdict of heat that held until then, or of the first at all;
 *     -1 where there was none
 * @param warning what it said first
 */
record WarmedTracker(String what, int passesS, int warnedS, Kind kind, String warning) {
  private static final long START_S = 1_772_352_000;
  private static final int READINGS = 10;

  /** Whole minutes and parts of them by which it was told ahead; negative where late or never. */
  double minutesAhead() {
    return warnedS < 0 ? Double.NEGATIVE_INFINITY : (passesS - warnedS) / 60.0;
  }

  static WarmedTracker of(Recipe recipe, String what) {
    ThermalModel heat = new ThermalModel(recipe.heating(), recipe.events());
    SplittableRandom random = new SplittableRandom(recipe.run().seed());
    Judge judge = new Judge("T", "T@bench", SoakTerms.of(Limits.DEFAULT));
    int passes = -1;
    Readiness first = null;
    int warned = -1;
    for (int s = 0; s < recipe.durationS() && passes < 0; s++) {
      heat.step();
      passes = heat.chipC() >= Limits.DEFAULT.hotC() ? s : -1;
      double mid = s + 0.5;
      if (recipe.events().poweredOff(mid) || recipe.events().gap(mid)) {
        continue;
      }
      Readiness verdict = judge.accept(bin(recipe.unit(), s, heat.chipC(), random), null);
      boolean hot = verdict.state() == State.HOT;
      if (hot && warned < 0) {
        warned = s;
        first = verdict;
      } else if (!hot && recipe.heating().plateauC() >= Limits.DEFAULT.hotC()) {
        warned = -1;
      }
    }
    boolean told = warned >= 0 && first.heat() != null;
    return new WarmedTracker(
        what, passes, warned, told ? first.heat().kind() : null, told ? first.heat().reason() : "");
  }

  private static Bin bin(SimulatedUnit unit, int s, double chipC, SplittableRandom random) {
    double sum = 0;
    double square = 0;
    double least = Double.NaN;
    double before = Double.NaN;
    for (int i = 0; i < READINGS; i++) {
      double read = chipC + unit.readout().thermometerNoiseC() * random.nextGaussian();
      double step = unit.readout().thermometerStepC();
      double shown = step > 0 ? Math.rint(read / step) * step : read;
      sum += shown - chipC;
      square += (shown - chipC) * (shown - chipC);
      double change = Math.abs(shown - before);
      least = change > 0 && !(change >= least) ? change : least;
      before = shown;
    }
    double mean = sum / READINGS;
    double sd = Math.sqrt(Math.max(0, square - READINGS * mean * mean) / (READINGS - 1));
    Channel[] none = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    long us = (START_S + s) * 1_000_000;
    Channel celsius = new Channel(READINGS, chipC + mean, sd);
    return new Bin("T", START_S + s, us, us + 900_000, 0, celsius, none, none, least, Double.NaN);
  }
}
