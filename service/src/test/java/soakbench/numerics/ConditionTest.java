package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Condition numbers in closed form. */
class ConditionTest {

  /** Of two unit columns with the cosine c the singular values squared are 1 + c and 1 - c. */
  @ParameterizedTest
  @ValueSource(doubles = {0, 0.5, 0.9, 0.998})
  void ofTwoColumnsItFollowsFromTheirAngle(double cosine) {
    double[][] rows = {{1, cosine}, {0, Math.sqrt(1 - cosine * cosine)}, {0, 0}};
    assertThat(Condition.of(rows)).isCloseTo(Math.sqrt((1 + cosine) / (1 - cosine)), within(1e-9));
  }

  @Test
  void theUnitsOfTheColumnsDoNotMatter() {
    double[][] metres = {{1, 2}, {3, 1}, {0, 4}};
    double[][] millimetres = {{1, 2000}, {3, 1000}, {0, 4000}};
    assertThat(Condition.of(millimetres)).isCloseTo(Condition.of(metres), within(1e-12));
  }

  @Test
  void aColumnThatIsZeroOrDependsOnOthersCannotBeTold() {
    assertThat(Condition.of(new double[][] {{1, 0}, {1, 0}})).isInfinite();
    assertThat(Condition.of(new double[][] {{1, 2}, {2, 4}, {3, 6}})).isInfinite();
  }

  @Test
  void aLevelBesideTemperaturesFarFromZeroIsNearlyOneColumn() {
    double[][] rows = new double[11][];
    for (int i = 0; i < rows.length; i++) {
      rows[i] = new double[] {1, 295 + i};
    }
    assertThat(Condition.of(rows)).as("kelvin, not about their middle").isGreaterThan(100);
    for (double[] row : rows) {
      row[1] -= 300;
    }
    assertThat(Condition.of(rows)).isCloseTo(1, within(1e-9));
  }
}
