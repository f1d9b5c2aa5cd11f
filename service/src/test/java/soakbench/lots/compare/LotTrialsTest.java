package soakbench.lots.compare;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.lots.statistics.ExtremeDeviates;
import soakbench.lots.statistics.MedianDraws;
import soakbench.lots.statistics.MedianRatio;
import soakbench.lots.statistics.OrderLimit;
import soakbench.lots.statistics.OwnSpread;
import soakbench.model.Estimate;

/**
 * How often lots that are alike are called different, and how often intervals hold the truth, by
 * simulated lots of a known law: two to four of them, of six to twenty units, unequal in size.
 */
class LotTrialsTest {
  private static final int MANY = 2000;
  private static final int FEW = 50;

  /** What units of a lot are like. */
  private enum Law {
    NORMAL {
      @Override
      double draw(Random random) {
        return random.nextGaussian();
      }
    },
    /** A worst of three axes. */
    WORST {
      @Override
      double draw(Random random) {
        double worst = 0;
        for (int i = 0; i < 3; i++) {
          worst = Math.max(worst, Math.abs(random.nextGaussian()));
        }
        return worst;
      }
    },
    /** So many times as large: noise of a stream. */
    LOGNORMAL {
      @Override
      double draw(Random random) {
        return Math.exp(0.3 * random.nextGaussian());
      }
    };

    abstract double draw(Random random);
  }

  private static double[] lot(Law law, int units, double spread, Random random) {
    double[] figures = new double[units];
    for (int i = 0; i < units; i++) {
      figures[i] = spread * law.draw(random);
    }
    return figures;
  }

  /** Lots of one law; {@code unequal} of unequal spreads about the same mean. */
  private static Map<String, double[]> lots(Law law, boolean unequal, Random random) {
    Map<String, double[]> lots = new LinkedHashMap<>();
    int count = 2 + random.nextInt(3);
    for (int i = 0; i < count; i++) {
      double spread = unequal ? Math.pow(3, random.nextDouble()) : 1;
      lots.put("lot " + i, lot(law, 6 + random.nextInt(15), spread, random));
    }
    return lots;
  }

  private static double called(
      Law law, boolean unequal, int trials, long seed, ToDoubleFunction<Map<String, double[]>> p) {
    Random random = new Random(seed);
    int called = 0;
    for (int trial = 0; trial < trials; trial++) {
      called += p.applyAsDouble(lots(law, unequal, random)) < 0.05 ? 1 : 0;
    }
    double share = (double) called / trials;
    System.out.printf("%s, %d trials: %.1f %% called different%n", law, trials, 100 * share);
    return share;
  }

  private static double spread(Map<String, double[]> lots) {
    return Spread.of(lots, Estimate.unknown("not asked")).p();
  }

  @Test
  void lotsOfOneMeanThatSpreadUnequallyAreCalledDifferentInOneOfTwenty() {
    assertThat(called(Law.NORMAL, true, MANY, 1, l -> Level.of(l).p())).isBetween(0.03, 0.07);
  }

  @Test
  void lotsOfOneSkewedLawAreCalledDifferentInOneOfTwenty() {
    assertThat(called(Law.WORST, false, MANY, 2, l -> Level.of(l).p())).isBetween(0.03, 0.07);
    assertThat(called(Law.LOGNORMAL, false, MANY, 3, l -> Level.of(l).p())).isBetween(0.03, 0.07);
  }

  @Test
  void lotsThatSpreadAlikeAreSeldomCalledDifferent() {
    assertThat(called(Law.NORMAL, false, FEW, 4, LotTrialsTest::spread)).isBetween(0.0, 0.16);
  }

  @Test
  @Tag("bench")
  void lotsThatSpreadAlikeAreCalledDifferentInOneOfTwenty() {
    for (Law law : Law.values()) {
      assertThat(called(law, false, MANY, 5, LotTrialsTest::spread))
          .as(law.name())
          .isBetween(0.03, 0.07);
    }
  }

  /** Small lots, by permutation: never more often than the level says. */
  @Test
  @Tag("bench")
  void smallLotsAreNotCalledDifferentMoreOftenThanTheLevelSays() {
    Random random = new Random(6);
    for (int units : new int[] {3, 4, 5}) {
      int called = 0;
      for (int trial = 0; trial < MANY; trial++) {
        Map<String, double[]> lots = new LinkedHashMap<>();
        lots.put("a", lot(Law.NORMAL, units, 1, random));
        lots.put("b", lot(Law.NORMAL, units + 2, 1, random));
        called += Level.of(lots).p() < 0.05 ? 1 : 0;
      }
      System.out.printf("%d and %d units: %.1f %%%n", units, units + 2, 100.0 * called / MANY);
      assertThat((double) called / MANY).isBetween(0.02, 0.065);
    }
  }

  private static double ratioHolds(Law law, int trials, double alpha, long seed) {
    Random random = new Random(seed);
    int held = 0;
    for (int trial = 0; trial < trials; trial++) {
      double[] a = sizes(lot(law, 6 + random.nextInt(15), 1, random));
      double[] b = sizes(lot(law, 6 + random.nextInt(15), 2, random));
      Estimate ratio = MedianRatio.of(MedianDraws.of(a, 0), MedianDraws.of(b, 1), alpha).ratio();
      held += ratio.low() <= 2 && 2 <= ratio.high() ? 1 : 0;
    }
    System.out.printf(
        "%s, ratio of medians, %d trials: %.1f %% hold the truth%n",
        law, trials, 100.0 * held / trials);
    return (double) held / trials;
  }

  private static double[] sizes(double[] figures) {
    for (int i = 0; i < figures.length; i++) {
      figures[i] = Math.abs(figures[i]);
    }
    return figures;
  }

  @Test
  void theRatioOfMediansMostlyHoldsTheTruth() {
    assertThat(ratioHolds(Law.WORST, FEW, 0.05, 7)).isBetween(0.86, 1.0);
  }

  @Test
  @Tag("bench")
  void theRatioOfMediansHoldsTheTruthInNineteenOfTwenty() {
    for (Law law : Law.values()) {
      assertThat(ratioHolds(law, MANY, 0.05, 8)).as(law.name()).isBetween(0.93, 0.97);
    }
  }

  /** Units with a spread of 1, each measured with an error between 0.2 and 0.8. */
  @Test
  void theSpreadOfTheUnitsThemselvesIsHeldInNineteenOfTwenty() {
    Random random = new Random(9);
    int held = 0;
    for (int trial = 0; trial < MANY; trial++) {
      int units = 6 + random.nextInt(25);
      double[] figures = new double[units];
      double[] errors = new double[units];
      for (int i = 0; i < units; i++) {
        errors[i] = 0.2 + 0.6 * random.nextDouble();
        figures[i] = random.nextGaussian() + errors[i] * random.nextGaussian();
      }
      Estimate own = OwnSpread.of(figures, errors).own();
      held += own.low() <= 1 && 1 <= own.high() ? 1 : 0;
    }
    System.out.printf("spread of units: %.1f %% hold the truth%n", 100.0 * held / MANY);
    assertThat((double) held / MANY).isBetween(0.93, 0.97);
  }

  @Test
  void ofLotsWithoutAMisfitOneUnitIsNamedInOneOfTwenty() {
    Random random = new Random(10);
    for (int units : new int[] {15, 25, 60}) {
      int named = 0;
      for (int trial = 0; trial < MANY; trial++) {
        double[] figures = lot(Law.NORMAL, units, 1, random);
        named += ExtremeDeviates.of(figures, 0.05, Math.min(10, units / 5)).count() > 0 ? 1 : 0;
      }
      System.out.printf("%d units: one named in %.1f %%%n", units, 100.0 * named / MANY);
      assertThat((double) named / MANY).isBetween(0.03, 0.07);
    }
  }

  /** Of 59, 93 and 200 units; a limit of few units holds more than it promises. */
  @Test
  void theOrderStatisticHoldsTheWantedShareAtLeastAsOftenAsPromised() {
    Random random = new Random(11);
    for (int units : new int[] {59, 93, 200}) {
      int held = 0;
      for (int trial = 0; trial < MANY; trial++) {
        double[] uniform = new double[units];
        for (int i = 0; i < units; i++) {
          uniform[i] = random.nextDouble();
        }
        java.util.Arrays.sort(uniform);
        held += uniform[units - OrderLimit.rank(units, 0.95, 0.95)] >= 0.95 ? 1 : 0;
      }
      assertThat((double) held / MANY).as(units + " units").isBetween(0.94, 0.985);
    }
  }

  /** Shown as a table of what is found and what isn't, of lots twice as wide. */
  @Test
  @Tag("bench")
  void aRatioOfTwoIsSeenInFourOfFiveWhereThePowerSaysSo() {
    Random random = new Random(12);
    List<Double> ratios = new ArrayList<>();
    int units = 20;
    int seen = 0;
    for (int trial = 0; trial < MANY / 4; trial++) {
      double[] a = lot(Law.WORST, units, 1, random);
      double[] b = lot(Law.WORST, units, 1.6, random);
      MedianRatio found = MedianRatio.of(MedianDraws.of(a, 0), MedianDraws.of(b, 1), 0.05);
      seen += found.ratio().low() > 1 ? 1 : 0;
      double log = Math.sqrt((found.first() + found.second()) / units);
      ratios.add(Math.exp(soakbench.lots.statistics.Power.quantile(2.0 * units - 2) * log));
    }
    ratios.sort(null);
    double median = ratios.get(ratios.size() / 2);
    double share = seen / (MANY / 4.0);
    System.out.printf(
        "1.6 times: seen in %.0f %%; detectable, median, %.2f%n", 100 * share, median);
    assertThat(median).isBetween(1.3, 2.0);
    assertThat(share).isBetween(0.6, 0.98);
  }
}
