package soakbench.lots;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.TreeMap;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulatedTracker;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitGenerator;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.heading.HeadingAsk;
import soakbench.ingest.source.Recording;
import soakbench.live.deriving.SoakDrift;
import soakbench.live.watch.OpenBin;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;

/**
 * Soaks of simulated units, from their printed lines to their figures as the service makes them: a
 * unit has one curve and one lag, each soak its own noise, and its own warm-up in its own place of
 * the rack or anywhere.
 */
final class SimulatedUnits {
  static final double USE_C = 31;
  private static final long DAY_US = 86_400_000_000L;
  private static final long START_US = 1_772_352_000_000_000L;

  /**
   * How a unit's soaks are.
   *
   * @param mix how rough
   * @param durationS how long each, s
   * @param samePlace whether all head for much the same level with much the same time constant
   */
  record Setting(Mix mix, double durationS, boolean samePlace) {}

  /** A unit with its soaks. */
  record Unit(SimulatedUnit truth, List<UnitSoak> soaks) {
    /** The true slope of an axis, deg/s per degC. */
    double slope(int axis, double celsius) {
      double[] c = truth.axes().get(axis).coefficients();
      double d = celsius - Axis.REFERENCE_C;
      return c[1] + d * (2 * c[2] + d * 3 * c[3]);
    }
  }

  private SimulatedUnits() {}

  /** A unit of a usual lot. */
  static Unit unit(long seed, int soaks, Setting setting) {
    Draw draw = new Draw(new SplittableRandom(seed));
    SimulatedUnit unit = UnitGenerator.unit("KITE-1", "lot-1", 1, true, draw);
    double plateauC = draw.uniform(29, 33.2);
    double bodyS = draw.uniform(500, 1300);
    List<UnitSoak> out = new ArrayList<>();
    for (int k = 0; k < soaks; k++) {
      long startUs = START_US + k * DAY_US;
      long soakSeed = 1000 * seed + k;
      Recipe recipe =
          RecipeGenerator.recipe(unit, setting.mix(), startUs, setting.durationS(), 2, soakSeed);
      if (setting.samePlace()) {
        Heating h = recipe.heating();
        recipe =
            recipe.with(
                Heating.steady(
                        h.startC(),
                        plateauC + draw.uniform(-0.4, 0.4),
                        h.selfHeatC(),
                        h.chipS(),
                        bodyS * draw.uniform(0.93, 1.07))
                    .in(h.room()));
      }
      out.add(soak(recipe, k));
    }
    return new Unit(unit, out);
  }

  private static UnitSoak soak(Recipe recipe, int day) {
    List<Bin> bins = bins(recipe);
    SoakDrift drift = SoakDrift.of(bins, CurveAsk.at(USE_C), Rates.UNKNOWN);
    SoakFigures figures =
        SoakFigures.of(
            drift.warmUp(),
            drift.curve().curve(),
            drift.noise(),
            drift.heading(HeadingAsk.between(drift.newestC(), USE_C)),
            null);
    long endUs = recipe.startUs() + Math.round(recipe.durationS() * 1e6);
    Soak soak = new Soak("KITE-1@" + day, "KITE-1", recipe.startUs(), endUs, 1, Soak.End.TAKEN_OFF);
    return new UnitSoak(soak, figures, null);
  }

  private static List<Bin> bins(Recipe recipe) {
    try {
      Path lines = Files.createTempFile("soakbench-unit-", ".jsonl");
      try {
        print(recipe, lines);
        TreeMap<Long, OpenBin> seconds = new TreeMap<>();
        Recording.read(lines, batch -> batch.forEach(s -> add(seconds, s)));
        return seconds.values().stream().map(b -> b.close(0)).toList();
      } finally {
        Files.delete(lines);
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static void add(TreeMap<Long, OpenBin> seconds, Sample s) {
    long second = Math.floorDiv(s.timeUs(), 1_000_000L);
    seconds.computeIfAbsent(second, at -> new OpenBin(s.tracker(), at)).add(s);
  }

  private static void print(Recipe recipe, Path file) throws IOException {
    SimulatedTracker tracker = new SimulatedTracker(recipe);
    LineBuffer buffer = new LineBuffer();
    try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file), 1 << 16)) {
      while (tracker.nextUs() != Long.MAX_VALUE) {
        tracker.next(buffer);
        out.write(buffer.bytes(), 0, buffer.length());
        buffer.clear();
      }
    }
  }
}
