package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import org.assertj.core.data.Offset;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.stat.StatUtils;
import org.junit.jupiter.api.Test;
import soakbench.ReferenceFile;
import soakbench.ReferenceFile.Certified;
import soakbench.readiness.estimator.TostInterval;

/**
 * Two one-sided tests for equivalence (D. J. Schuirmann, J. Pharmacokin. Biopharm. 15, 657-680,
 * 1987) on a worked case that is just equivalent; the published numbers are the output of an R
 * equivalence package.
 */
class EquivalenceReferenceTest {
  private static final Offset<Double> EXACT = Offset.offset(1e-12);
  private static final double ALPHA = 0.05;

  private final Certified published = ReferenceFile.certified("tost-welch");
  private final double[] one = ReferenceFile.of("tost-welch").columnWhere("y", "group", 1);
  private final double[] two = ReferenceFile.of("tost-welch").columnWhere("y", "group", 2);

  /** Difference of means with its standard error and degrees of freedom. */
  private record Difference(double value, double se, double df) {
    TostInterval interval() {
      return TostInterval.about(
          value, se * new TDistribution(df).inverseCumulativeProbability(1 - ALPHA));
    }

    /** The larger of the two one-sided p-values. */
    double p(double margin) {
      TDistribution t = new TDistribution(df);
      double below = t.cumulativeProbability(-(value + margin) / se);
      double above = t.cumulativeProbability((value - margin) / se);
      return Math.max(below, above);
    }
  }

  private Difference welch() {
    double a = StatUtils.variance(one) / one.length;
    double b = StatUtils.variance(two) / two.length;
    double df = (a + b) * (a + b) / (a * a / (one.length - 1) + b * b / (two.length - 1));
    return new Difference(StatUtils.mean(one) - StatUtils.mean(two), Math.sqrt(a + b), df);
  }

  private Difference pooled() {
    int df = one.length + two.length - 2;
    double within =
        StatUtils.variance(one) * (one.length - 1) + StatUtils.variance(two) * (two.length - 1);
    double se = Math.sqrt(within / df * (1.0 / one.length + 1.0 / two.length));
    return new Difference(StatUtils.mean(one) - StatUtils.mean(two), se, df);
  }

  @Test
  void theWelchIntervalIsTheOnePublished() {
    TostInterval interval = welch().interval();
    assertThat(welch().df()).isEqualTo(published.value("welch_df"), EXACT);
    assertThat(interval.value()).isEqualTo(published.value("mean_diff"), EXACT);
    assertThat(interval.low()).isEqualTo(published.value("welch_ci90_low"), EXACT);
    assertThat(interval.high()).isEqualTo(published.value("welch_ci90_high"), EXACT);
    assertThat(welch().p(margin())).isEqualTo(published.value("welch_p_value"), EXACT);
  }

  @Test
  void thePooledIntervalIsTheOnePublished() {
    TostInterval interval = pooled().interval();
    assertThat(interval.low()).isEqualTo(published.value("pooled_ci90_low"), EXACT);
    assertThat(interval.high()).isEqualTo(published.value("pooled_ci90_high"), EXACT);
    assertThat(pooled().p(margin())).isEqualTo(published.value("pooled_p_value"), EXACT);
  }

  @Test
  void equivalenceIsShownWhereThePublishedTestShowsIt() {
    assertThat(welch().interval().within(margin())).isTrue();
    assertThat(pooled().interval().within(margin())).isTrue();
    assertThat(welch().interval().within(0.59)).isFalse();
    assertThat(welch().interval().outside(margin())).isFalse();
  }

  @Test
  void theIntervalLiesInsideExactlyWhenPIsBelowAlpha() {
    for (Difference d : Arrays.asList(welch(), pooled())) {
      for (int i = 1; i <= 2000; i++) {
        double margin = i * 0.001;
        assertThat(d.interval().within(margin))
            .as("margin %s, p %s", margin, d.p(margin))
            .isEqualTo(d.p(margin) < ALPHA);
      }
    }
  }

  @Test
  void anIntervalTouchingTheLimitIsInsideAndOneOverItIsNeither() {
    assertThat(TostInterval.about(0.004, 0.006).within(0.010)).isTrue();
    assertThat(TostInterval.about(-0.004, 0.006).within(0.010)).isTrue();
    assertThat(TostInterval.about(0.004, 0.0061).within(0.010)).isFalse();
    assertThat(TostInterval.about(0.004, 0.0061).outside(0.010)).isFalse();
    assertThat(TostInterval.about(0.017, 0.0061).outside(0.010)).isTrue();
    assertThat(TostInterval.about(-0.017, 0.0061).outside(0.010)).isTrue();
    assertThat(TostInterval.about(-0.017, 0.006).reach()).isEqualTo(0.023, EXACT);
  }

  private double margin() {
    return published.value("margin");
  }
}
