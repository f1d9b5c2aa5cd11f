package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import soakbench.numerics.Noises;

class SecondNoiseTest {
  private final SecondNoise noise = new SecondNoise();

  @Test
  void aStraightLineHasNone() {
    for (int s = 0; s < 100; s++) {
      noise.accept(20 + 0.25 * s);
    }
    assertThat(noise.sdC()).isZero();
  }

  @Test
  void oneToothOfASawIsKnownByHand() {
    // Second difference 0 - 2 * 0.3 + 0; independent errors give six times their variance there.
    noise.accept(20);
    noise.accept(20.3);
    assertThat(noise.sdC()).isZero();
    noise.accept(20);
    assertThat(noise.sdC()).isCloseTo(0.6 / Math.sqrt(6), within(1e-12));
  }

  @Test
  void whiteNoiseOnAWarmUpIsFoundWithoutTheWarmUp() {
    double[] white = Noises.white(3000, 0.02, 3);
    for (int s = 0; s < white.length; s++) {
      noise.accept(32 - 9 * Math.exp(-s / 700.0) + white[s]);
    }
    // The mean of some 300 squares that share neighbours is known to about a tenth.
    assertThat(noise.sdC()).isCloseTo(0.02, within(0.003));
  }
}
