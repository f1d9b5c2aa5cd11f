package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Two one-sided tests by hand. */
class TostIntervalTest {
  @ParameterizedTest
  @CsvSource({
    // Ends on the limit count as within, and not as outside; all numbers are exact in binary.
    "0.5, 0.25, 0.75, true, false",
    "-0.5, 0.25, 0.75, true, false",
    "0.5, 0.25, 0.625, false, false",
    "-0.5, 0.25, 0.625, false, false",
    "1, 0.25, 0.75, false, false",
    "1, 0.25, 0.625, false, true",
    "-1, 0.25, 0.625, false, true",
    "0, 1, 0.75, false, false",
    "0, 0, 0, true, false"
  })
  void theIntervalLiesWithinOutsideOrAcrossTheLimit(
      double value, double half, double limit, boolean within, boolean outside) {
    TostInterval interval = TostInterval.about(value, half);
    assertThat(interval.within(limit)).isEqualTo(within);
    assertThat(interval.outside(limit)).isEqualTo(outside);
  }

  @Test
  void aWorkedMeanIsEquivalentToZeroWithinOneLimitAndNotWithinAnother() {
    // 25 readings, mean 0.0020, sd 0.0080: se 0.0016. Student's t at 0.95 with 24 degrees of
    // freedom is 1.711 (NIST/SEMATECH e-Handbook, table of the t distribution).
    TostInterval ninety = TostInterval.about(0.0020, 1.711 * 0.0080 / Math.sqrt(25));
    assertThat(ninety.low()).isCloseTo(-0.00074, within(5e-6));
    assertThat(ninety.high()).isCloseTo(0.00474, within(5e-6));
    assertThat(ninety.within(0.005)).isTrue();
    assertThat(ninety.within(0.0047)).isFalse();
    assertThat(ninety.outside(0.0001)).isFalse();
  }

  @Test
  void itReachesAsFarAsItsFartherEnd() {
    assertThat(TostInterval.about(0.5, 0.25).reach()).isEqualTo(0.75);
    assertThat(TostInterval.about(-0.5, 0.25).reach()).isEqualTo(0.75);
  }
}
