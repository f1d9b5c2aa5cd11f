package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.demo.unit.Motion;
import soakbench.drift.SimulatedBins;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.DriftAnalysis;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.still.Stillness.Answer;
import soakbench.model.Bin;
import soakbench.model.Estimate;

/** Stillness and offsets of simulated trackers, held against what was put into them. */
class StillnessTruthTest {
  /** A slow stream's window has to leave the motion before a new level can begin. */
  private static final int LEVEL_S = Stillness.NEW_POSE_S + PooledWindow.LONGEST_WINDOW_S + 5;

  @TempDir private Path folder;

  private record Run(Recipe recipe, List<Bin> bins) {
    /** Whether a motion or a gap is near enough to this second to excuse an answer. */
    boolean excused(double s) {
      return recipe.events().motions().stream()
              .anyMatch(m -> s >= m.fromS() - 2 && s <= m.toS() + LEVEL_S)
          || recipe.events().powerOffs().stream()
              .anyMatch(o -> s >= o.fromS() - 2 && s <= o.toS() + LEVEL_S);
    }
  }

  private static SimulateOptions options(Mix mix, long seed, double rateHz, Boolean accelerometer) {
    return SimulateOptions.usual(seed)
        .withMix(mix)
        .printing(rateHz)
        .withAccelerometer(accelerometer);
  }

  private Run run(SimulateOptions options) throws IOException {
    Path file = folder.resolve("run.jsonl");
    Recipe recipe;
    try (OutputStream out = new BufferedOutputStream(Files.newOutputStream(file))) {
      recipe = SimulateRun.write(options, out, null);
    }
    return new Run(recipe, SimulatedBins.of(file));
  }

  private static double secondOf(Run run, Bin bin) {
    return bin.second() - run.recipe().startUs() / 1e6;
  }

  @ParameterizedTest
  @CsvSource({"false, 10", "true, 10", "false, 2", "true, 2"})
  void everyMotionIsFoundAndNothingElse(boolean accelerometer, double rateHz) throws IOException {
    int motions = 0;
    int turns = 0;
    List<String> missed = new ArrayList<>();
    int mistaken = 0;
    for (long seed : new long[] {611, 614, 615}) {
      Run run = run(options(Mix.USUAL, seed, rateHz, accelerometer));
      Stillness stillness = new Stillness();
      List<Double> moved = new ArrayList<>();
      for (Bin bin : run.bins()) {
        if (stillness.accept(bin) == Answer.MOVED) {
          moved.add(secondOf(run, bin));
        }
      }
      mistaken += (int) moved.stream().filter(s -> !run.excused(s)).count();
      for (Motion m : run.recipe().events().motions()) {
        motions++;
        turns += m.kind() == Motion.Kind.TURN ? 1 : 0;
        boolean heard =
            run.bins().stream()
                .map(b -> secondOf(run, b))
                .anyMatch(s -> s >= m.fromS() + 1 && s <= m.toS() - 1);
        if (heard && moved.stream().noneMatch(s -> s >= m.fromS() - 1 && s <= m.toS() + 5)) {
          missed.add("seed " + seed + " " + m);
        }
      }
    }
    assertThat(motions).isGreaterThan(3);
    assertThat(turns).isPositive();
    assertThat(missed).isEmpty();
    assertThat(mistaken).as("seconds in three hours").isLessThanOrEqualTo(6);
  }

  /** Poses and boots are offsets: the coefficient is as if nobody had touched the tracker. */
  @Test
  void theCoefficientIsRightThoughTheTrackerWasTurnedOverAndRebooted() throws IOException {
    int checked = 0;
    int covered = 0;
    for (long seed = 700; checked < 3; seed++) {
      SimulateOptions options = options(Mix.NASTY, seed, 10, null);
      Recipe recipe = RecipeGenerator.recipe(options);
      boolean turned =
          recipe.events().motions().stream().anyMatch(m -> Math.abs(m.angleDeg()) > 40);
      List<String> scenarios = recipe.origin().scenarios();
      boolean smooth = !scenarios.contains("settling") && !scenarios.contains("coarse_temp");
      if (!turned || !scenarios.contains("reboot") || !smooth) {
        continue;
      }
      checked++;
      Run run = run(options);
      StillSoak still = StillSoak.of(run.bins());
      assertThat(still.blocks().stream().mapToInt(BiasBlock::segment).distinct().count())
          .as("seed %s", seed)
          .isGreaterThan(1);
      BiasCurve curve = DriftAnalysis.biasCurve(still, CurveAsk.at(31), new double[0]).curve();
      for (int axis = 0; axis < 3; axis++) {
        double d = curve.temperatures().operatingC() - 31;
        double[] c = run.recipe().unit().axes().get(axis).coefficients();
        double truth = c[1] + d * (2 * c[2] + d * 3 * c[3]);
        Estimate found = curve.axes().get(axis).figures().tempcoDpsPerC();
        covered += found.low() <= truth && truth <= found.high() ? 1 : 0;
        assertThat(found.value()).as("seed %s axis %s", seed, axis).isCloseTo(truth, within(0.02));
      }
    }
    assertThat(covered).as("of nine 95 % intervals").isGreaterThanOrEqualTo(7);
  }
}
