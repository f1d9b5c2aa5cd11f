package soakbench.demo.simulation;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.demo.unit.Room;

/** What the mixes are drawn from. */
class RecipeGeneratorTest {
  private static final int RUNS = 1000;
  private static final Path MANUAL = Path.of("..", "docs", "methods.md");

  private static Recipe recipe(Mix mix, long seed) {
    return RecipeGenerator.recipe(SimulateOptions.usual(seed).withMix(mix));
  }

  private static List<Recipe> recipes(Mix mix) {
    return IntStream.range(0, RUNS).mapToObj(seed -> recipe(mix, seed)).toList();
  }

  private static double steepest(Recipe recipe) {
    return recipe.unit().axes().stream()
        .mapToDouble(a -> Math.abs(a.coefficients()[1]))
        .max()
        .orElseThrow();
  }

  /** Four standard deviations of a binomial either way. */
  @ParameterizedTest
  @EnumSource
  void eachTroubleComesAsOftenAsTheMixSays(Mix mix) {
    List<Recipe> drawn = recipes(mix);
    for (Trouble trouble : Trouble.values()) {
      double chance = trouble.chance(mix);
      if (trouble == Trouble.MIDDLING_THERMOMETER) {
        chance *= 1 - Trouble.COARSE_THERMOMETER.chance(mix);
      }
      long seen =
          drawn.stream().filter(r -> r.origin().scenarios().contains(trouble.word())).count();
      double most = 4 * Math.sqrt(chance * (1 - chance) / RUNS);
      assertThat((double) seen / RUNS).as("%s", trouble).isBetween(chance - most, chance + most);
    }
  }

  /** Independent: together as often as the product of their chances. */
  @Test
  void everyTroubleMeetsEveryOther() {
    List<Recipe> drawn = recipes(Mix.NASTY);
    List<Trouble> all =
        Arrays.stream(Trouble.values())
            .filter(t -> t.chance(Mix.NASTY) > 0 && t != Trouble.MIDDLING_THERMOMETER)
            .toList();
    for (Trouble one : all) {
      for (Trouble other : all) {
        double chance = one.chance(Mix.NASTY) * other.chance(Mix.NASTY);
        long both =
            drawn.stream()
                .map(r -> r.origin().scenarios())
                .filter(s -> s.contains(one.word()) && s.contains(other.word()))
                .count();
        double most = 5 * Math.sqrt(chance * (1 - chance) / RUNS);
        assertThat(one == other ? chance : (double) both / RUNS)
            .as("%s and %s", one, other)
            .isBetween(chance - most, chance + most);
      }
    }
  }

  @Test
  void aCleanRoomIsSteadyAndOthersCycleAsRoomsDo() {
    assertThat(recipes(Mix.CLEAN)).allMatch(r -> r.heating().room().equals(Room.STEADY));
    List<Room> cycling =
        recipes(Mix.NASTY).stream()
            .map(r -> r.heating().room())
            .filter(r -> r.halfC() > 0)
            .toList();
    assertThat(cycling)
        .allMatch(r -> r.halfC() >= 0.1 && r.halfC() <= 0.75)
        .allMatch(r -> r.periodS() >= 300 && r.periodS() <= 1500)
        .anyMatch(r -> r.shape() == Room.Shape.SINE && r.phase() > 0.9)
        .anyMatch(r -> r.shape() == Room.Shape.SAW_TOOTH && r.phase() < 0.1);
    assertThat(recipes(Mix.USUAL))
        .filteredOn(r -> r.heating().room().driftCPerS() != 0)
        .allMatch(r -> Math.abs(3 * 3600 * r.heating().room().driftCPerS()) >= 1)
        .allMatch(r -> Math.abs(3 * 3600 * r.heating().room().driftCPerS()) <= 2);
  }

  /** So that what a mix does can be told from what a tracker is. */
  @Test
  void aSeedIsTheSameTrackerInEachMix() {
    for (int seed = 0; seed < 20; seed++) {
      Recipe clean = recipe(Mix.CLEAN, seed);
      Recipe nasty = recipe(Mix.NASTY, seed);
      assertThat(nasty.heating().in(Room.STEADY)).isEqualTo(clean.heating());
      assertThat(nasty.unit().axes().get(0).coefficients()[0])
          .isEqualTo(clean.unit().axes().get(0).coefficients()[0]);
    }
  }

  /** The lines of a clean tracker are cited by seed; this one's noise seed is drawn last of all. */
  @Test
  void aCleanRunIsTheOneThatItAlwaysWas() {
    assertThat(recipe(Mix.CLEAN, 5).run().seed()).isEqualTo(-383195811603433165L);
  }

  @Test
  void whatIsSureHappensInWhateverMix() {
    Set<Trouble> sure =
        Set.of(Trouble.STEEP_AXIS, Trouble.HEATING_CYCLE, Trouble.COARSE_THERMOMETER, Trouble.SUN);
    for (int seed = 0; seed < 50; seed++) {
      Recipe recipe = RecipeGenerator.recipe(SimulateOptions.usual(seed).with(sure));
      assertThat(recipe.heating().room().halfC()).isPositive();
      assertThat(recipe.unit().readout().thermometerStepC()).isEqualTo(0.5);
      assertThat(steepest(recipe)).isBetween(0.05, 0.12);
      assertThat(recipe.events().uncoverings()).anyMatch(l -> l.dropC() < 0);
      assertThat(recipe.origin().scenarios())
          .containsAll(sure.stream().map(Trouble::word).toList());
    }
  }

  @Test
  void theStrangeAreStrangeByTurns() {
    for (int turn = 0; turn < 3; turn++) {
      assertThat(strange(Strange.TWO_SLOW_MASSES, turn).heating().slowS()).isEqualTo(2500);
      assertThat(strange(Strange.ROOM_OF_3_C, turn).heating().room().halfC()).isEqualTo(1.5);
      assertThat(strange(Strange.BODY_OF_60_S, turn).heating().bodyS()).isEqualTo(60);
      assertThat(strange(Strange.BODY_OF_3000_S, turn).heating().bodyS()).isEqualTo(3000);
      assertThat(steepest(strange(Strange.STEEP_0_1, turn))).isBetween(0.0999, 0.1001);
      assertThat(steepest(strange(Strange.STEEP_0_2, turn))).isBetween(0.1999, 0.2001);
      assertThat(strange(Strange.HALF_HZ, turn).stream().rateHz()).isEqualTo(0.5);
      assertThat(strange(Strange.TWO_HZ, turn).stream().rateHz()).isEqualTo(2);
      Recipe slowlyRead = strange(Strange.THERMOMETER_EVERY_10_S, turn);
      assertThat(slowlyRead.unit().readout().thermometerEveryS()).isEqualTo(10);
      Recipe handled = strange(Strange.HANDLED, turn);
      assertThat(handled.events().motions()).hasSizeGreaterThanOrEqualTo(11);
      assertThat(handled.events().motions()).filteredOn(m -> m.addedC() >= 0.15).hasSize(11);
    }
  }

  /** Rows begin with a trouble's word; cells with a share in percent, or none. */
  @Test
  void theManualTellsTheSameShares() throws IOException {
    Map<String, String[]> rows =
        Files.readAllLines(MANUAL).stream()
            .filter(line -> line.matches("\\| `[a-z_]+`: .*"))
            .map(line -> line.split("\\|"))
            .collect(Collectors.toMap(cells -> cells[1].split("`")[1], cells -> cells));
    for (Trouble trouble : Trouble.values()) {
      String[] cells = rows.get(trouble.word());
      assertThat(cells).as("%s is in the table", trouble).isNotNull();
      for (int i = 0; i < 3; i++) {
        long percent = Math.round(100 * trouble.chance(Mix.values()[i]));
        assertThat(cells[2 + i].strip())
            .as("%s, column %d", trouble, i + 1)
            .startsWith(percent == 0 ? "none" : percent + " %");
      }
    }
  }

  @Test
  void aStrangeRoomDriftsWhereItSaysSo() {
    for (int turn = 0; turn < 20; turn++) {
      Recipe recipe = strange(Strange.ROOM_OF_3_C, turn);
      assertThat(recipe.heating().room().driftCPerS() != 0)
          .isEqualTo(recipe.origin().scenarios().contains(Trouble.ROOM_DRIFT.word()));
    }
  }

  private static Recipe strange(Strange kind, int turn) {
    Recipe recipe = recipe(Mix.STRANGE, 10L * turn + kind.ordinal());
    assertThat(recipe.origin().scenarios()).contains(kind.word());
    return recipe;
  }
}
