package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;

import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Test;

class DecayTest {

  @Test
  void itIsTheExponentialAcrossGapsAndChangesOfTheStep() {
    double[] t = new double[1000];
    for (int i = 0; i < t.length; i++) {
      t[i] = i == 0 ? 7 : t[i - 1] + (i % 300 == 0 ? 333.3 : i < 400 ? 2 : 10);
    }
    double[] decay = Decay.of(t, 700);
    for (int i = 0; i < t.length; i++) {
      assertThat(decay[i]).isCloseTo(Math.exp(-t[i] / 700), Percentage.withPercentage(1e-10));
    }
  }

  @Test
  void nothingIsLeftWhereTheExponentialIsTooSmallForANumber() {
    assertThat(Decay.of(new double[] {1, 2, 3000, 3001}, 1)).endsWith(0, 0);
  }
}
