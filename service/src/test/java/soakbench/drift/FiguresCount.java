package soakbench.drift;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.LongStream;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.OnePlateau;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.unit.Axis;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.heading.Heading;
import soakbench.drift.heading.HeadingAsk;
import soakbench.drift.noise.Noise;
import soakbench.live.deriving.SoakDrift;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;

/**
 * Figures of an hour each of simulated trackers of the usual mix, from their printed lines, held
 * against what went into them.
 */
final class FiguresCount {
  private static final double USE_C = 31;

  /** A floor that white noise has sunk to half of by 120 s is in reach of such records. */
  private static final double REACH_S = 120;

  /** How often something held. */
  static final class Count {
    int held;
    int of;

    void add(boolean holds) {
      held += holds ? 1 : 0;
      of++;
    }

    void add(Estimate e, double truth) {
      if (e.known()) {
        add(e.low() <= truth && truth <= e.high());
      }
    }

    double percent() {
      return 100.0 * held / of;
    }

    @Override
    public String toString() {
      return of == 0
          ? "none"
          : String.format(Locale.ROOT, "%d of %d (%.1f %%)", held, of, percent());
    }
  }

  final Count plateau = new Count();
  final Count coefficient = new Count();
  final Count white = new Count();
  final Count heading = new Count();
  final Count worstHeading = new Count();
  final Count lagClaimedSmooth = new Count();
  final Count lagClaimedHandled = new Count();
  final Count lag = new Count();
  final Count hysteresisClaimed = new Count();
  final Count floorClaimedOutOfReach = new Count();
  final Count floorClaimedInReach = new Count();
  final Count withoutCurve = new Count();
  private final List<Double> floorErrors = new ArrayList<>();

  static FiguresCount of(long seed, int trackers) {
    FiguresCount count = new FiguresCount();
    LongStream.range(seed, seed + trackers).parallel().forEach(s -> count.tracker(s));
    return count;
  }

  private void tracker(long seed) {
    SimulateOptions options = SimulateOptions.usual(seed).withMix(Mix.USUAL);
    Recipe recipe = RecipeGenerator.recipe(options);
    List<Bin> bins = SimulatedBins.of(options);
    SoakDrift drift = SoakDrift.of(bins, CurveAsk.at(USE_C), Rates.UNKNOWN);
    synchronized (this) {
      if (OnePlateau.has(recipe)) {
        plateau.add(drift.warmUp().plateauC(), recipe.heating().plateauC());
      }
      curve(drift, recipe);
      noise(drift, recipe);
    }
  }

  private void curve(SoakDrift drift, Recipe recipe) {
    BiasCurve bias = drift.curve().curve();
    withoutCurve.add(bias.reason() != null);
    if (bias.reason() != null) {
      return;
    }
    double fromC = bias.temperatures().rangeC()[0] + 1;
    Heading use = drift.heading(HeadingAsk.between(fromC, bias.temperatures().operatingC()));
    for (int i = 0; i < 3; i++) {
      double[] c = recipe.unit().axes().get(i).coefficients();
      BiasCurve.Axis axis = bias.axes().get(i);
      coefficient.add(axis.figures().tempcoDpsPerC(), slope(c, bias.temperatures().operatingC()));
      double rate = 60 * (bias(c, bias.temperatures().operatingC()) - bias(c, fromC));
      heading.add(use.axes().get(i).degPerMin(), rate);
      boolean worst = use.axes().get(i).degPerMin().equals(use.degPerMin());
      if (worst) {
        worstHeading.add(use.degPerMin(), rate);
      }
      boolean smooth = recipe.events().motions().isEmpty();
      (smooth ? lagClaimedSmooth : lagClaimedHandled).add(axis.figures().lagDpsPerCPerS().known());
      lag.add(axis.figures().lagDpsPerCPerS(), recipe.unit().axes().get(i).lagDpsPerCPerS());
      hysteresisClaimed.add(axis.figures().hysteresisDps().known());
    }
  }

  private static double bias(double[] c, double celsius) {
    double d = celsius - Axis.REFERENCE_C;
    return c[0] + d * (c[1] + d * (c[2] + d * c[3]));
  }

  private static double slope(double[] c, double celsius) {
    double d = celsius - Axis.REFERENCE_C;
    return c[1] + d * (2 * c[2] + d * 3 * c[3]);
  }

  private void noise(SoakDrift drift, Recipe recipe) {
    if (drift.noise().reason() != null) {
      return;
    }
    double step = recipe.unit().readout().gyroStepDps();
    for (int i = 0; i < 3; i++) {
      Axis truth = recipe.unit().axes().get(i);
      Noise.Axis axis = drift.noise().axes().get(i);
      // N is that of the printed stream: its steps are part of it.
      double printed =
          Math.sqrt(
              truth.noise().whiteDps() * truth.noise().whiteDps()
                  + step * step / (12 * recipe.stream().rateHz()));
      white.add(axis.angleRandomWalkDegPerSqrtH(), 60 * printed);
      double floor = truth.noise().flickerDegPerH();
      boolean reach = truth.noise().whiteDps() / Math.sqrt(REACH_S) < 0.5 * 0.664 * floor / 3600;
      Estimate b = axis.biasInstabilityDegPerH();
      (reach ? floorClaimedInReach : floorClaimedOutOfReach).add(b.known());
      if (reach && b.known()) {
        floorErrors.add(Math.abs(b.value() / floor - 1));
      }
    }
  }

  /** Median relative error of B where it is in reach and told. */
  double floorError() {
    double[] sorted = floorErrors.stream().mapToDouble(Double::doubleValue).sorted().toArray();
    return sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2];
  }

  @Override
  public String toString() {
    return "plateau in its interval "
        + plateau
        + "; coefficient "
        + coefficient
        + "; N "
        + white
        + "; heading rate "
        + heading
        + ", of the worst axis "
        + worstHeading
        + "; B told out of reach "
        + floorClaimedOutOfReach
        + ", in reach "
        + floorClaimedInReach
        + String.format(Locale.ROOT, " with a median error of %.1f %%", 100 * floorError())
        + "; lag told of smooth warm-ups "
        + lagClaimedSmooth
        + ", of handled ones "
        + lagClaimedHandled
        + " (holds in "
        + lag
        + "), hysteresis "
        + hysteresisClaimed
        + "; without a curve "
        + withoutCurve;
  }
}
