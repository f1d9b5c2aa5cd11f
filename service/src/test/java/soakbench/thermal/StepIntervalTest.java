package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** What half-degree steps say, one of which lies on 20 degC. */
class StepIntervalTest {
  private static final double STEP_C = 0.5;

  private static StepInterval of(double meanC, double moveC) {
    return StepInterval.of(meanC, STEP_C, 20, moveC);
  }

  @ParameterizedTest
  @CsvSource({
    // One step alone: half a step about it, also where the mean is off by rounding.
    "20.5, 0, 20.25, 20.75",
    "20.509, 0.3, 20.25, 20.75",
    "19.0, 0, 18.75, 19.25",
    // Two steps in one block: 0.15 steps about the edge between them.
    "20.7, 0, 20.675, 20.825",
    "20.511, 0, 20.675, 20.825",
    "19.3, 0, 19.175, 19.325",
    // And half of what it moves within the block, whichever way.
    "20.7, 0.1, 20.625, 20.875",
    "20.7, -0.1, 20.625, 20.875"
  })
  void aBlocksMeanTellsBetweenWhatTheTemperatureLay(
      double meanC, double moveC, double lowC, double highC) {
    StepInterval interval = of(meanC, moveC);
    assertThat(interval.lowC()).isCloseTo(lowC, within(1e-9));
    assertThat(interval.highC()).isCloseTo(highC, within(1e-9));
  }

  @Test
  void aMissIsHowFarOutsideAndOnWhichSide() {
    StepInterval interval = new StepInterval(20.25, 20.75);
    assertThat(interval.missC(20.25)).isZero();
    assertThat(interval.missC(20.75)).isZero();
    assertThat(interval.missC(20.85)).isCloseTo(0.1, within(1e-12));
    assertThat(interval.missC(20.05)).isCloseTo(-0.2, within(1e-12));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.002, 0.01, 0.03, -0.01})
  void alongARampTheTruthLiesWithin(double slopeCPerS) {
    for (int block = 0; block < 200; block++) {
      double sum = 0;
      for (int s = 0; s < 10; s++) {
        sum += STEP_C * Math.rint((25 + slopeCPerS * (10 * block + s)) / STEP_C);
      }
      double truth = 25 + slopeCPerS * (10 * block + 4.5);
      assertThat(of(sum / 10, 10 * slopeCPerS).missC(truth))
          .as("block %s", block)
          .isCloseTo(0, within(5 * Math.abs(slopeCPerS)));
    }
  }
}
