package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Half a 95 % interval of Student's t. */
class StudentLimitsTest {
  /** NIST/SEMATECH e-Handbook, table 1.3.6.7.2, column 0.975. */
  @ParameterizedTest
  @CsvSource({
    "1, 12.706",
    "2, 4.303",
    "3, 3.182",
    "4, 2.776",
    "5, 2.571",
    "6, 2.447",
    "8, 2.306",
    "10, 2.228",
    "15, 2.131",
    "20, 2.086",
    "30, 2.042",
    "60, 2.000",
    "100, 1.984"
  })
  void thePrintedTableComesOut(double degrees, double limitsSe) {
    double expansion = degrees < 10 ? 0.002 : 0.0006;
    assertThat(StudentLimits.limitsSe(degrees)).isCloseTo(limitsSe, within(expansion));
  }

  @ParameterizedTest
  @CsvSource({"8", "20", "75", "1000"})
  void theDegreesOfAnIntervalAreThoseThatItWasMadeOf(double degrees) {
    double back = StudentLimits.degreesOfFreedom(StudentLimits.limitsSe(degrees));
    assertThat(back).isCloseTo(degrees, within(0.02 * degrees));
  }

  @Test
  void anIntervalNoWiderThanTheNormalOneKnowsItsErrorForCertain() {
    assertThat(StudentLimits.degreesOfFreedom(1.96)).isGreaterThan(50_000);
    assertThat(StudentLimits.degreesOfFreedom(1.9)).isInfinite();
    assertThat(StudentLimits.limitsSe(Double.POSITIVE_INFINITY)).isCloseTo(1.959964, within(1e-6));
    assertThat(StudentLimits.limitsSe(0.3)).as("as of one degree").isCloseTo(12.706, within(0.001));
  }
}
