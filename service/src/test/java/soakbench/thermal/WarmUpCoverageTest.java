package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.OnePlateau;
import soakbench.demo.simulation.Recipe;
import soakbench.model.Estimate;

/**
 * How good the warm-up curve's limits are, over an hour each of simulated trackers whose plateau
 * and time constants are known: a hundred in the bench form, the first eight of them otherwise.
 * Prints what it counts. The seeds are not those that the method was tried on.
 */
class WarmUpCoverageTest {
  private static final int TRACKERS = 100;
  private static final int FEW = 8;

  /** 95 % limits hold of fewer than six in eight less than once in a hundred and seventy. */
  private static final int LEAST_OF_FEW = 6;

  private static final long SEED = 260_000;

  /** A lid closed later than this leaves too little for its plateau to be the hour's, s. */
  private static final double LATEST_LID_S = 2400;

  /**
   * Records to count on. Bounds allow for chance in a hundred: 95 % limits hold in fewer than 90
   * less than once in forty runs.
   */
  private enum Records {
    /** From power-on, or up to 40 s later: the chip's warming is in the record. */
    CLEAN_FROM_THE_START(Mix.CLEAN, 0, 95, 100, 91),
    /** Found ten minutes later: only the body is left. */
    CLEAN_TEN_MINUTES_LATE(Mix.CLEAN, 600, 0, 5, 91),
    USUAL_FROM_THE_START(Mix.USUAL, 0, 40, 100, 88);

    final Mix mix;
    final double fromS;
    final int leastTwo;
    final int mostTwo;
    final int leastCovered;

    Records(Mix mix, double fromS, int leastTwo, int mostTwo, int leastCovered) {
      this.mix = mix;
      this.fromS = fromS;
      this.leastTwo = leastTwo;
      this.mostTwo = mostTwo;
      this.leastCovered = leastCovered;
    }
  }

  private record Told(Recipe recipe, WarmUpCurve curve) {
    static Told of(Recipe recipe, double fromS) {
      return new Told(recipe, WarmUpAnalysis.of(SimulatedThermometer.bins(recipe, fromS)));
    }

    boolean foreseeable() {
      return curve.reason() == null
          && recipe.events().uncoverings().stream().allMatch(l -> l.toS() < LATEST_LID_S)
          && recipe.events().powerOffs().stream().allMatch(o -> o.toS() < LATEST_LID_S);
    }

    boolean two() {
      return curve.timeConstantsS().size() == 2;
    }

    boolean plateauCovered() {
      return holds(curve.plateauC(), recipe.heating().plateauC());
    }

    boolean bodyCovered() {
      int last = curve.timeConstantsS().size() - 1;
      return holds(curve.timeConstantsS().get(last), recipe.heating().bodyS());
    }

    boolean chipCovered() {
      return holds(curve.timeConstantsS().get(0), recipe.heating().chipS());
    }
  }

  private static boolean holds(Estimate e, double truth) {
    return !e.known() || e.low() <= truth && truth <= e.high();
  }

  private static int percent(List<Told> of, java.util.function.Predicate<Told> what) {
    return of.isEmpty()
        ? 100
        : (int) Math.round(100.0 * of.stream().filter(what).count() / of.size());
  }

  private static List<Told> told(Records records, int trackers) {
    return LongStream.iterate(SEED, seed -> seed + 1)
        .mapToObj(seed -> SimulatedThermometer.recipe(records.mix, seed))
        .filter(OnePlateau::has)
        .limit(trackers)
        .toList()
        .parallelStream()
        .map(recipe -> Told.of(recipe, records.fromS))
        .filter(Told::foreseeable)
        .toList();
  }

  @ParameterizedTest
  @EnumSource
  void theLimitsHoldOfEight(Records records) {
    List<Told> told = told(records, FEW);
    assertThat(told).hasSizeGreaterThanOrEqualTo(LEAST_OF_FEW);
    int least = told.size() - (FEW - LEAST_OF_FEW);
    assertThat(told.stream().filter(Told::plateauCovered).count()).isGreaterThanOrEqualTo(least);
    assertThat(told.stream().filter(Told::bodyCovered).count()).isGreaterThanOrEqualTo(least);
    List<Told> two = told.stream().filter(Told::two).toList();
    assertThat(100.0 * two.size() / told.size())
        .isBetween(records.leastTwo * 0.8, records.mostTwo + 20.0);
    if (records == Records.CLEAN_FROM_THE_START) {
      assertThat(two.stream().filter(Told::chipCovered).count())
          .isGreaterThanOrEqualTo(two.size() - (FEW - LEAST_OF_FEW));
    }
  }

  @ParameterizedTest
  @EnumSource
  @Tag("bench")
  void theLimitsHold(Records records) {
    List<Told> told = told(records, TRACKERS);
    List<Told> two = told.stream().filter(Told::two).toList();
    double halfC =
        told.stream()
            .mapToDouble(t -> (t.curve.plateauC().high() - t.curve.plateauC().low()) / 2)
            .sorted()
            .skip(told.size() / 2)
            .findFirst()
            .orElseThrow();
    int plateau = percent(told, Told::plateauCovered);
    int body = percent(told, Told::bodyCovered);
    int chip = percent(two, Told::chipCovered);
    System.out.printf(
        "%s: %d of %d told, %d with two constants; covered: plateau %d %% (half width %.4f degC),"
            + " body %d %%, chip %d %%%n",
        records, told.size(), TRACKERS, two.size(), plateau, halfC, body, chip);
    assertThat(told).hasSizeGreaterThan(90);
    assertThat(two.size()).isBetween(records.leastTwo, records.mostTwo);
    assertThat(plateau).isGreaterThanOrEqualTo(records.leastCovered);
    assertThat(body).isGreaterThanOrEqualTo(records.leastCovered);
    assertThat(records.fromS > 0 || records.mix != Mix.CLEAN || chip >= records.leastCovered)
        .as("chip covered in %s %%", chip)
        .isTrue();
  }
}
