package soakbench.lots.statistics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatIllegalArgumentException;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.distribution.continuous.NormalDistribution;
import org.hipparchus.random.Well19937c;
import org.hipparchus.stat.StatUtils;
import org.junit.jupiter.api.Test;
import soakbench.ReferenceFile;
import soakbench.ReferenceFile.Certified;

/** Two-sided factors of the NIST/SEMATECH e-Handbook 7.2.6.3 and of ISO 16269-6, table F.1. */
class ToleranceIntervalReferenceTest {
  private final Certified published = ReferenceFile.certified("handbook-tolerance-two-sided");

  @Test
  void howesFactorForTheWafersIsThePrintedOne() {
    assertThat(ToleranceInterval.howe(43, 0.90, 0.99))
        .isEqualTo(published.value("wafers_k2_howe"), within(5e-5));
  }

  /** Printed 1.9906, it seems rounded up; in full by 25-digit quadrature and by R, 1.99053213. */
  @Test
  void theExactFactorIsThatOfTheStandardAndOfTwoOtherComputations() {
    double iso = ToleranceInterval.factor(35, 0.90, 0.90);
    assertThat(iso).isEqualTo(published.value("iso_k2_exact"), within(1e-4));
    assertThat(iso).isEqualTo(published.value("iso_k2_exact_recomputed"), within(5e-9));
    assertThat(ToleranceInterval.factor(43, 0.90, 0.99))
        .isEqualTo(published.value("wafers_k2_exact_recomputed"), within(5e-9));
  }

  /** Simulated units of a known law; 4000 trials leave 0.0034 standard error of the share. */
  @Test
  void sixUnitsHoldTheWantedShareAsOftenAsPromised() {
    Well19937c random = new Well19937c(20_261_125);
    NormalDistribution law = new NormalDistribution(0.3, 0.02);
    double factor = ToleranceInterval.factor(6, 0.95, 0.95);
    int trials = 4000;
    int held = 0;
    for (int trial = 0; trial < trials; trial++) {
      double[] figures = new double[6];
      for (int i = 0; i < figures.length; i++) {
        figures[i] = 0.3 + 0.02 * random.nextGaussian();
      }
      double mean = StatUtils.mean(figures);
      double half = factor * Math.sqrt(StatUtils.variance(figures));
      held += law.probability(mean - half, mean + half) >= 0.95 ? 1 : 0;
    }
    assertThat((double) held / trials).isEqualTo(0.95, within(0.012));
  }

  @Test
  void theIntervalLiesSoManyDeviationsAboutTheMean() {
    ToleranceInterval interval =
        ToleranceInterval.of(new double[] {-0.01, 0, 0.01, 0, 0.01, -0.01}, 0.95, 0.95);
    double half = ToleranceInterval.factor(6, 0.95, 0.95) * Math.sqrt(4e-4 / 5);
    assertThat(interval.low()).isEqualTo(-half, within(1e-12));
    assertThat(interval.high()).isEqualTo(half, within(1e-12));
  }

  @Test
  void theFactorFallsToTheNormalQuantileAsUnitsGrowMany() {
    assertThat(ToleranceInterval.factor(2, 0.95, 0.95))
        .isGreaterThan(ToleranceInterval.factor(3, 0.95, 0.95));
    assertThat(ToleranceInterval.factor(1_000_000, 0.95, 0.95)).isBetween(1.959964, 1.965);
  }

  @Test
  void oneUnitOrAShareThatIsNoShareIsRefused() {
    assertThatIllegalArgumentException()
        .isThrownBy(() -> ToleranceInterval.factor(1, 0.95, 0.95))
        .withMessageContaining("1 units");
    assertThatIllegalArgumentException()
        .isThrownBy(() -> ToleranceInterval.factor(6, 1, 0.95))
        .withMessageContaining("coverage 1.0");
  }
}
