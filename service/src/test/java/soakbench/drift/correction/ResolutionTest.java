package soakbench.drift.correction;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

class ResolutionTest {
  private static final Channel[] NO_ACCEL = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};

  private static Bin bin(int readings, double sdX, double sdY, double stepDps) {
    double z = readings > 1 ? 1 : Double.NaN;
    Channel[] gyro = {
      new Channel(readings, 0, sdX), new Channel(readings, 0, sdY), new Channel(readings, 0, z)
    };
    return new Bin("T-1", 1, 0, 0, 0, Channel.EMPTY, gyro, NO_ACCEL, Double.NaN, stepDps);
  }

  @ParameterizedTest
  @CsvSource({"0.049, false", "0.051, true"})
  void halfAStepOfNoiseIsEnough(double sdDps, boolean enough) {
    Resolution resolution = new Resolution();
    resolution.accept(bin(10, sdDps, 1, 0.1));
    assertThat(resolution.enough(0)).isEqualTo(enough);
    assertThat(resolution.enough(1)).as("each axis by itself").isTrue();
  }

  @Test
  void theSmallestStepSeenAndTheMeanSquareCount() {
    Resolution resolution = new Resolution();
    resolution.accept(bin(10, 0, 0.03, 0.3));
    assertThat(resolution.enough(1)).isFalse();
    resolution.accept(bin(10, 0.1, 0.04, 0.05));
    assertThat(resolution.enough(0)).as("root of 0.01 / 2 against 0.025").isTrue();
    assertThat(resolution.enough(1)).as("root of 0.0025 / 2 against 0.025").isTrue();
  }

  @Test
  void singleReadingsAndUnseenStepsLeaveItOpen() {
    Resolution resolution = new Resolution();
    resolution.accept(single(0.3));
    assertThat(resolution.enough(0)).as("one value").isFalse();
    resolution.accept(single(0.31));
    assertThat(resolution.enough(0)).as("single readings that differ").isTrue();
    Resolution smooth = new Resolution();
    smooth.accept(bin(10, 2e-6, 2e-6, Double.NaN));
    assertThat(smooth.enough(0)).as("no step seen").isTrue();
  }

  @Test
  void anAxisThatReadsOneAndTheSameValueHasNothingToJudgeBy() {
    Resolution resolution = new Resolution();
    for (int s = 0; s < 3; s++) {
      resolution.accept(bin(10, 0, 0.03, 0.01));
    }
    assertThat(resolution.enough(0)).isFalse();
    assertThat(resolution.enough(1)).isTrue();
  }

  private static Bin single(double dps) {
    Channel c = new Channel(1, dps, Double.NaN);
    Channel[] gyro = {c, c, c};
    return new Bin("T-1", 1, 0, 0, 0, Channel.EMPTY, gyro, NO_ACCEL, Double.NaN, Double.NaN);
  }
}
