package soakbench.lots.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.stat.StatUtils;
import org.junit.jupiter.api.Test;
import soakbench.ReferenceFile;
import soakbench.model.Estimate;

/**
 * Tests of groups, on the gear diameters of the NIST/SEMATECH e-Handbook 1.3.5.10, against R 4.2.2
 * (2022-11-10); the call that gave each value stands beside it, {@code g(i)} being the diameters of
 * batch i.
 */
class GroupTestsReferenceTest {
  private static final ReferenceFile GEARS = ReferenceFile.of("handbook-levene-gear");

  private static double[] g(int batch) {
    return GEARS.columnWhere("y", "batch", batch);
  }

  /** oneway.test(y ~ batch, gear[gear$batch %in% c(1,2,3,6),]). */
  @Test
  void welchsTestOfFourBatchesIsThatOfR() {
    WelchTest test = WelchTest.of(new double[][] {g(1), g(2), g(3), g(6)});
    assertThat(test.f()).isEqualTo(1.2359911633948955, within(1e-11));
    assertThat(test.betweenDf()).isEqualTo(3);
    assertThat(test.withinDf()).isEqualTo(19.4794125556134716, within(1e-10));
    assertThat(test.p()).isEqualTo(0.3235823647354181, within(1e-11));
  }

  /** t.test(g(6), g(1)). */
  @Test
  void ofTwoBatchesItIsWelchsTWithItsInterval() {
    double[][] two = {g(1), g(6)};
    assertThat(Math.sqrt(WelchTest.of(two).f())).isEqualTo(0.23426064283288395, within(1e-11));
    assertThat(WelchTest.of(two).p()).isEqualTo(0.8186201957723122, within(1e-11));
    PairTest pair = PairTest.of(g(1), g(6), 2);
    assertThat(pair.p()).isEqualTo(0.8186201957723122, within(1e-11));
    assertThat(pair.df()).isEqualTo(12.353586939663431, within(1e-10));
    assertThat(pair.difference().low()).isEqualTo(-0.0066170933241266, within(1e-12));
    assertThat(pair.difference().high()).isEqualTo(0.0082170933241264, within(1e-12));
  }

  /**
   * Games-Howell by ptukey(abs(d)/sqrt(v)*sqrt(2), 4, df, lower.tail = FALSE) and qtukey(.95, 4,
   * df)/sqrt(2)*sqrt(v), d and v being difference and squared error of the means.
   */
  @Test
  void aPairOfFourBatchesHasTheLimitsOfTukeysRange() {
    PairTest pair = PairTest.of(g(2), g(3), 4);
    assertThat(pair.difference().value()).isEqualTo(-0.0037, within(1e-12));
    assertThat(pair.df()).isEqualTo(16.821784322406284, within(1e-10));
    assertThat(pair.p()).isEqualTo(0.3148914012521492, within(1e-8));
    assertThat(pair.difference().low()).isEqualTo(-0.0096032059438459, within(1e-9));
    assertThat(pair.difference().high()).isEqualTo(0.0022032059438458, within(1e-9));
    assertThat(PairTest.of(g(1), g(6), 4).p()).isEqualTo(0.99523159007147788, within(1e-8));
  }

  /** With m degrees of freedom, J = exp(lgamma(m/2) - lgamma((m-1)/2))/sqrt(m/2). */
  @Test
  void hedgesGIsFreedOfItsBiasByTheExactFactor() {
    Estimate g = EffectSize.of(g(1), g(6));
    assertThat(g.value()).isEqualTo(0.10032739159032, within(1e-11));
    assertThat(g.se()).isEqualTo(0.44749484872743, within(1e-11));
    assertThat(EffectSize.of(g(6), g(1)).value()).isEqualTo(-g.value(), within(1e-15));
  }

  /** p.adjust(c(.01, .04, .03, .005, .5), "holm"). */
  @Test
  void holmsProbabilitiesAreThoseOfR() {
    assertThat(Holm.adjusted(new double[] {.01, .04, .03, .005, .5}))
        .containsExactly(new double[] {0.04, 0.09, 0.09, 0.025, 0.5}, within(1e-12));
    assertThat(Holm.adjusted(new double[] {})).isEmpty();
    assertThat(Holm.adjusted(new double[] {0.7, 0.9})).containsExactly(1, 1);
  }

  /** binom.test(2, 12)$conf.int and its like. */
  @Test
  void aShareHasExactLimits() {
    limits(ShareOutside.of(0, 12), 0, 0.264648469397);
    limits(ShareOutside.of(2, 12), 0.0208625254601, 0.484137748686);
    limits(ShareOutside.of(12, 12), 0.735351530603, 1);
    assertThatIllegalArgumentException().isThrownBy(() -> ShareOutside.of(3, 2));
  }

  private static void limits(Estimate share, double low, double high) {
    assertThat(share.low()).isEqualTo(low, within(1e-9));
    assertThat(share.high()).isEqualTo(high, within(1e-9));
  }

  /** power.t.test(n = 12, sd = 1, power = .8)$delta and its like; the noncentral t is exact. */
  @Test
  void whatSoManyUnitsCanShowIsWithinAHundredthOfTheNoncentralT() {
    double[][] deltas = {{6, 1.795547}, {12, 1.1968397}, {60, 0.51570435}};
    for (double[] known : deltas) {
      double delta = Power.quantile(2 * known[0] - 2) * Math.sqrt(2 / known[0]);
      assertThat(delta).isEqualTo(known[1], within(0.01 * known[1]));
    }
    // power.t.test(delta = .5, sd = 1, power = .8)$n is 63.77, of 1.5 it is 8.06.
    assertThat(Power.unitsOfEach(1, 1, 0.5)).isBetween(63, 65);
    assertThat(Power.unitsOfEach(1, 1, 1.5)).isBetween(8, 9);
    assertThat(Power.unitsOfEach(1, 1, 1e-9)).isEqualTo(1_000_000);
  }

  /** c(k, sqrt(1/(9*n) + k^2/(2*(n-1)))) of c(g(1), g(2), g(3)), limits 0.98 and 1.01. */
  @Test
  void theCapabilityOfTheGearsIsThatOfItsFormula() {
    double[] all = new double[30];
    for (int i = 0; i < 3; i++) {
      System.arraycopy(g(i + 1), 0, all, 10 * i, 10);
    }
    Estimate cpk = Capability.cpk(all, 0.98, 1.01);
    assertThat(cpk.value()).isEqualTo(0.8943137, within(5e-8));
    assertThat(cpk.se()).isEqualTo(0.1322623, within(5e-8));
    assertThat(Capability.cpk(g(1), 0.98, 1.01).reason()).isEqualTo("needs 25 units; there are 10");
  }

  /** Least counts with pbinom(r - 1, n, .05) <= .05; 59 and 93 are the known ones (Wilks 1941). */
  @Test
  void theGreatestOfFiftyNineIsALimitAndTheSecondOfNinetyThree() {
    int[][] ranks = {{1, 0}, {58, 0}, {59, 1}, {92, 1}, {93, 2}, {124, 3}, {153, 4}};
    for (int[] known : ranks) {
      assertThat(OrderLimit.rank(known[0], 0.95, 0.95)).as(known[0] + "").isEqualTo(known[1]);
    }
    assertThat(OrderLimit.leastCount(0.95, 0.95)).isEqualTo(59);
  }

  /** Fisher's way: of the 70 deals of four and four only two are as far apart. */
  @Test
  void aPermutationTestGoesThroughAllDealsOfSmallGroups() {
    double[][] apart = {{1, 2, 3, 4}, {11, 12, 13, 14}};
    double p = PermutationTest.p(apart, d -> Math.abs(StatUtils.mean(d[0]) - StatUtils.mean(d[1])));
    assertThat(p).isEqualTo(2.0 / 70, within(1e-15)).isEqualTo(PermutationTest.least(4, 4));
    assertThat(PermutationTest.least(3, 3)).isEqualTo(0.1, within(1e-15));
    assertThat(PermutationTest.least(2, 5)).isEqualTo(1.0 / 21, within(1e-15));
    assertThat(PermutationTest.p(new double[][] {{5, 5}, {5, 5, 5}}, d -> 0)).isEqualTo(1);
  }

  @Test
  void aGroupWithoutSpreadOrAloneIsRefused() {
    double[] alike = {0.1, 0.1, 0.1};
    assertThatIllegalArgumentException()
        .isThrownBy(() -> WelchTest.of(new double[][] {g(1), alike}))
        .withMessageContaining("3 figures has no spread");
    assertThatIllegalArgumentException().isThrownBy(() -> WelchTest.of(new double[][] {g(1)}));
    assertThatIllegalArgumentException().isThrownBy(() -> PairTest.of(alike, alike, 2));
    assertThatIllegalArgumentException().isThrownBy(() -> EffectSize.of(alike, alike));
    assertThatIllegalArgumentException().isThrownBy(() -> MedianDraws.of(new double[5], 0));
    assertThat(OwnSpread.of(new double[] {3}, new double[] {1}).own().reason())
        .contains("one unit alone");
    assertThat(OwnSpread.of(alike, new double[] {1, Double.NaN, 1}).own().reason())
        .contains("error of this figure is not known");
  }
}
