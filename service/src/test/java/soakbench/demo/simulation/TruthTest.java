package soakbench.demo.simulation;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.Recipes;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Room;
import soakbench.demo.unit.Span;
import soakbench.demo.unit.Uncovering;

class TruthTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @TempDir Path folder;

  @Test
  void readyBeginsAMinuteAfterTheLastConditionIsMet() {
    // One node in effect: the rate falls below 0.1 degC/min at 700 ln(8 / 700 * 60 / 0.1).
    Recipe recipe = plain(Recipes.silentAxis(0, 0.005), Events.NONE);
    double settledS = 700 * Math.log(8.0 / 700 * 60 / 0.1);
    int ready = Truth.of(recipe).readyS().get(0)[0];
    assertThat((double) ready).isCloseTo(settledS + 60, within(2.5));
    assertThat(Truth.of(recipe).readyS().get(0)[1]).isEqualTo(3600);
  }

  @Test
  void forASteepTrackerTheShiftBindsInsteadOfTheRate() {
    double slope = 0.08;
    Recipe recipe = plain(Recipes.silentAxis(0, slope), Events.NONE);
    // The shift is slope * what is left * (1 - exp(-180 / 700)).
    double left = 0.010 / slope / (1 - Math.exp(-180 / 700.0));
    double settledS = 700 * Math.log(8 / left);
    assertThat((double) Truth.of(recipe).readyS().get(0)[0]).isCloseTo(settledS + 60, within(2.5));
    double harmlessS = 700 * Math.log(8 / (left * 1.5));
    assertThat((double) Truth.of(recipe).harmfulS().get(0)[1]).isCloseTo(harmlessS, within(2.0));
  }

  @Test
  void motionTakesReadyAwayForItsLengthAndAMinute() {
    Motion motion = new Motion(2500.3, 2508.2, Motion.Kind.BURST, new double[] {1, 0, 0}, 0, 0);
    Recipe recipe =
        plain(
            Recipes.silentAxis(0, 0.005),
            new Events(List.of(motion), List.of(), List.of(), List.of()));
    List<int[]> ready = Truth.of(recipe).readyS();
    assertThat(ready).hasSize(2);
    assertThat(ready.get(0)[1]).isEqualTo(2499);
    assertThat(ready.get(1)[0]).isEqualTo(2508 + 61);
  }

  @Test
  void anOpenLidIsHarmfulBecauseItIsLeftOpen() {
    Recipe recipe =
        plain(
            Recipes.silentAxis(0, 0.02),
            new Events(List.of(), List.of(new Uncovering(3000, 3200, 5)), List.of(), List.of()));
    assertThat(Truth.of(recipe).harmfulS())
        .anySatisfy(
            span -> {
              assertThat(span[0]).isBetween(2999, 3001);
              assertThat(span[1]).isGreaterThanOrEqualTo(3199);
            });
  }

  /**
   * Long after the start a body of 100 s follows a room's sine with amplitude A; within 180 s of a
   * period of 600 it changes by 2 A sin(pi 180 / 600) at most.
   */
  @Test
  void theRoomsSwingToComeIsInTheShift() {
    Room room = new Room(0.5, 600, 0, Room.Shape.SINE, 0);
    Heating flat = Heating.steady(31, 31, 0, 0.5, 100).in(room);
    Recipe recipe = Recipes.run(Recipes.unit(Recipes.silentAxis(0, 0.1)), flat, Events.NONE, 3600);
    double amplitudeC = 0.5 / Math.hypot(1, 2 * Math.PI * 100 / 600);
    double greatest = 2 * amplitudeC * Math.sin(Math.PI * 180 / 600) * 0.1;
    double[] shifts = Truth.of(recipe).shiftDps();
    double most = 0;
    for (int s = 1800; s < 2400; s++) {
      most = Math.max(most, shifts[s]);
    }
    assertThat(most).isCloseTo(greatest, within(0.0003));
  }

  /** Nobody can foresee it; once it is there it counts as staying. */
  @Test
  void theSunCountsFromWhenItComes() {
    Heating flat = Heating.steady(31, 31, 0, 0.5, 400);
    Events sun = new EventsBuilder(3600, null).sunFrom(2000, 1.5).build();
    Recipe recipe = Recipes.run(Recipes.unit(Recipes.silentAxis(0, 0.1)), flat, sun, 3600);
    double[] shifts = Truth.of(recipe).shiftDps();
    assertThat(shifts[1999]).isZero();
    double after = 1.5 * (1 - Math.exp(-180 / 400.0)) * 0.1;
    assertThat(shifts[2000]).isCloseTo(after, within(0.0002));
    assertThat(Truth.of(recipe).temperatureC()[3199]).isCloseTo(32.43, within(0.01));
    assertThat(Truth.of(recipe).temperatureC()[3500]).isLessThan(31.75);
  }

  @Test
  void itTellsWhenTheBiasHasMovedSoFar() {
    Heating flat = Heating.steady(31, 31, 0, 1, 700);
    Events opened =
        new Events(List.of(), List.of(new Uncovering(3000, 4000, 5)), List.of(), List.of());
    Recipe recipe = Recipes.run(Recipes.unit(Recipes.silentAxis(0, 0.02)), flat, opened, 4000);
    // 0.01 deg/s at 0.02 deg/s per degC is half a degree of five, with 700 s, the chip 1 s behind.
    double expectedS = -700 * Math.log(1 - 0.5 / 5) + 1;
    assertThat(Truth.of(recipe).movedAfterS(3000, 0.010)).isCloseTo(expectedS, within(1.0));
    assertThat(Truth.of(recipe).movedAfterS(100, 0.2)).isNaN();
  }

  @Test
  void settlingAfterPowerOnCountsThoughNoTemperatureExplainsIt() {
    Axis settling = Recipes.silentAxis(0, 0).with(new Axis.Settling(0.08, 300));
    Heating flat = Heating.steady(31, 31, 0, 20, 700);
    Recipe recipe = Recipes.run(Recipes.unit(settling), flat, Events.NONE, 2000);
    double expectedS = 300 * Math.log(0.08 * (1 - Math.exp(-180 / 300.0)) / 0.010);
    assertThat((double) Truth.of(recipe).readyS().get(0)[0]).isCloseTo(expectedS + 60, within(2.5));
  }

  @Test
  void hotIsFromFortyFiveDegrees() {
    Heating burning = Heating.steady(24, 50, 0, 20, 700);
    Recipe recipe = Recipes.run(Recipes.unit(Recipes.silentAxis(0)), burning, Events.NONE, 3600);
    Truth truth = Truth.of(recipe);
    int from = truth.hotS().get(0)[0];
    assertThat(truth.temperatureC()[from]).isGreaterThanOrEqualTo(45);
    assertThat(truth.temperatureC()[from - 1]).isLessThan(45);
  }

  @Test
  void movesWhereItSaysSoAndNowhereElse() throws Exception {
    assertThat(movesWhereItSaysSo(0, 4)).as("runs that move").isPositive();
  }

  @Test
  @Tag("bench")
  void soDoOthers() throws Exception {
    movesWhereItSaysSo(4, 12);
  }

  /** How many of them move at all. */
  private int movesWhereItSaysSo(long from, long to) throws Exception {
    int moving = 0;
    for (long seed : LongStream.range(from, to).toArray()) {
      Recipe recipe = RecipeGenerator.recipe(SimulateOptions.usual(seed));
      if (recipe.events().motions().isEmpty()) {
        continue;
      }
      moving++;
      double[] peaks = peakRatesDps(recipe);
      boolean[] moved = new boolean[peaks.length];
      for (Motion motion : recipe.events().motions()) {
        double peak = 0;
        for (int s = (int) motion.fromS(); s <= Math.min(motion.toS(), peaks.length - 1); s++) {
          peak = Math.max(peak, peaks[s]);
          moved[s] = true;
        }
        boolean lost = overlaps(recipe.events().gaps(), motion);
        assertThat(lost || peak > 0.4).as("seed %d: %s, peak %s", seed, motion, peak).isTrue();
      }
      for (int s = 0; s < peaks.length; s++) {
        assertThat(moved[s] || peaks[s] < 0.35).as("seed %d, second %d", seed, s).isTrue();
      }
    }
    return moving;
  }

  @Test
  void aTruthFileHasTheKeysThatAScorerReads() throws Exception {
    Recipe recipe = RecipeGenerator.recipe(SimulateOptions.usual(3).withMix(Mix.NASTY));
    Path file = folder.resolve("truth.json");
    TruthFile.write(List.of(Truth.of(recipe)), file);
    JsonNode document = JSON.readTree(file.toFile());
    assertThat(document.get("start").asText()).isEqualTo("2026-01-01T08:00:00Z");
    JsonNode tracker = document.get("trackers").get(0);
    List<String> keys = new ArrayList<>();
    tracker.fieldNames().forEachRemaining(keys::add);
    assertThat(keys)
        .contains(
            "tracker",
            "lot",
            "mix",
            "scenarios",
            "plateau_class",
            "first_sample_s",
            "last_sample_s",
            "plateau_c",
            "time_constants_s",
            "bias_coeffs_about_31c",
            "tempco_31c_dps_per_c",
            "N_dps_per_sqrt_hz",
            "B_deg_per_h",
            "motion",
            "lid",
            "off",
            "gaps",
            "ready_intervals_s",
            "ready_s",
            "harmful_intervals_s",
            "hot_intervals_s");
    assertThat(tracker.get("grid").get("temp_c")).hasSize(361);
    assertThat(tracker.get("grid").get("shift180_dps")).hasSize(361);
    assertThat(tracker.get("bias_coeffs_about_31c").get(2)).hasSize(4);
  }

  private static Recipe plain(Axis axis, Events events) {
    return Recipes.run(Recipes.unit(axis), Heating.steady(23, 31, 0, 0.5, 700), events, 3600);
  }

  private static boolean overlaps(List<Span> spans, Motion motion) {
    return spans.stream().anyMatch(s -> s.fromS() < motion.toS() && motion.fromS() < s.toS());
  }

  /** Greatest departure from the second-wise neighbour's mean that a still gyro can't have. */
  private static double[] peakRatesDps(Recipe recipe) throws Exception {
    double[] peaks = new double[(int) recipe.durationS() + 1];
    Truth truth = Truth.of(recipe);
    for (String line : Recipes.lines(recipe)) {
      if (!line.startsWith("{\"id")) {
        continue;
      }
      JsonNode node = JSON.readTree(line);
      int s =
          (int)
              (Instant.parse(node.get("time").asText()).toEpochMilli() / 1e3
                  - Recipes.START_US / 1e6);
      for (int i = 0; i < 3; i++) {
        Axis axis = recipe.unit().axes().get(i);
        double bias = axis.biasDps(truth.temperatureC()[s], truth.rateCPerMin()[s] / 60, s);
        double off = Math.abs(node.get("gyro_dps").get(i).asDouble() - bias);
        peaks[s] = Math.max(peaks[s], off);
      }
    }
    return peaks;
  }
}
