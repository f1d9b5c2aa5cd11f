package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.readiness.Heat.Kind;

/** How long ahead a tracker that will be too hot is told, and how often for nothing. */
class HeadingForHotTest {
  private static final long SECOND_SET = 20_000;

  private static List<WarmedTracker> overheating(int count, long seed) {
    List<WarmedTracker> all = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      Overheating kind = Overheating.values()[i % Overheating.values().length];
      Recipe recipe = Overheating.of(kind, seed + i);
      String what =
          String.format(
              Locale.ROOT,
              "%d %s plateau %.1f body %.0f step %.3f self %.1f start %.0f lamp %s",
              seed + i,
              kind,
              recipe.heating().plateauC(),
              recipe.heating().bodyS(),
              recipe.unit().readout().thermometerStepC(),
              recipe.heating().selfHeatC(),
              recipe.heating().startC(),
              recipe.events().uncoverings());
      all.add(WarmedTracker.of(recipe, what));
    }
    return all;
  }

  private static List<WarmedTracker> harmless(Mix mix, int count, long seed) {
    List<WarmedTracker> all = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      SimulateOptions options =
          SimulateOptions.usual(seed + i)
              .withMix(mix)
              .named("SIM")
              .startingAt(java.time.Instant.EPOCH);
      Recipe recipe = RecipeGenerator.recipe(options);
      all.add(
          WarmedTracker.of(
              recipe,
              mix + " " + (seed + i) + " " + recipe.origin().scenarios() + recipe.heating()));
    }
    return all;
  }

  @Test
  void someOfEachKindAreToldThreeMinutesAhead() {
    assertThat(overheating(8, 1)).allMatch(t -> t.minutesAhead() >= 3);
  }

  @Test
  void whatStaysHarmlessIsNeverTold() {
    assertThat(harmless(Mix.CLEAN, 4, 1)).allMatch(t -> t.warnedS() < 0);
    assertThat(harmless(Mix.USUAL, 4, 1)).allMatch(t -> t.warnedS() < 0);
  }

  @Test
  @Tag("bench")
  void twoHundredAreToldAheadAndNoneForNothing() {
    long seed = Long.getLong("soakbench.test.heading.seed", SECOND_SET);
    int count = Integer.getInteger("soakbench.test.heading.count", 200);
    List<WarmedTracker> hot = overheating(count, seed);
    double[] ahead = hot.stream().mapToDouble(WarmedTracker::minutesAhead).sorted().toArray();
    System.out.printf(
        Locale.ROOT,
        "%d overheating: minutes ahead least %.1f, 5 %% %.1f, median %.1f, most %.1f; under three:"
            + " %d%n",
        count,
        ahead[0],
        ahead[count / 20],
        ahead[count / 2],
        ahead[count - 1],
        hot.stream().filter(t -> t.minutesAhead() < 3).count());
    hot.stream().filter(t -> t.minutesAhead() < 3).forEach(System.out::println);
    for (Kind kind : Kind.values()) {
      System.out.println(kind + " first: " + hot.stream().filter(t -> t.kind() == kind).count());
    }
    for (Mix mix : List.of(Mix.CLEAN, Mix.USUAL, Mix.NASTY)) {
      List<WarmedTracker> calm = harmless(mix, count, seed);
      List<WarmedTracker> told = calm.stream().filter(t -> t.warnedS() >= 0).toList();
      System.out.println(mix + ": told for nothing " + told.size() + " of " + calm.size());
      told.forEach(System.out::println);
      assertThat(mix == Mix.NASTY ? List.of() : told).isEmpty();
    }
    assertThat(hot.stream().filter(t -> t.minutesAhead() < 3).count()).isLessThan(count / 50);
  }
}
