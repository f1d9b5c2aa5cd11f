package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Sample;

/** Which readings a second leaves out. */
class OpenBinTest {
  private static final double NOISE_DPS = 0.03;

  private final SplittableRandom random = new SplittableRandom(12);

  private static Sample sample(long timeUs, double x) {
    float none = Float.NaN;
    return new Sample("T-1", timeUs, 30, false, (float) x, 0.1f, -0.2f, none, none, none, 0, 0);
  }

  /** A second whose readings of one axis are noise, but for some that are off by so much. */
  private Bin second(long second, int readings, double offDps, int... off) {
    OpenBin bin = new OpenBin("T-1", second);
    for (int i = 0; i < readings; i++) {
      double x = 0.5 + NOISE_DPS * random.nextGaussian();
      for (int k : off) {
        x += k == i ? offDps : 0;
      }
      bin.add(sample(second * 1_000_000L + i * 1_000_000L / readings, x));
    }
    return bin.close(0);
  }

  @ParameterizedTest
  @CsvSource({"10, 0.8", "10, -3", "25, 0.8", "5, 2", "5, -50", "10, 150"})
  void aLoneReadingFarFromAllOthersIsLeftOut(int readings, double offDps) {
    for (int s = 0; s < 200; s++) {
      Bin bin = second(s, readings, offDps, s % readings);
      assertThat(bin.rateCount()).isEqualTo(readings - 1);
      assertThat(bin.gyroDps()[0].mean()).isCloseTo(0.5, within(0.1));
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {5, 10, 25})
  void twoReadingsOffAreMotion(int readings) {
    for (int s = 0; s < 200; s++) {
      assertThat(second(s, readings, 3, 1, 3).rateCount()).isEqualTo(readings);
    }
  }

  @ParameterizedTest
  @ValueSource(ints = {5, 10})
  void evenNoiseLosesNextToNothing(int readings) {
    long lost = 0;
    for (int s = 0; s < 20_000; s++) {
      lost += readings - second(s, readings, 0).rateCount();
    }
    assertThat(lost).isLessThanOrEqualTo(20);
  }

  /** Each of them was taken for motion and split the record. */
  @Test
  void lonelySpikesOfANoisyStreamDoNotSplitARecord() {
    Stillness stillness = new Stillness();
    for (int s = 0; s < 7200; s++) {
      int[] spike = s % 800 == 400 ? new int[] {s / 800} : new int[0];
      assertThat(stillness.accept(second(s, 10, 0.9, spike)))
          .as("second %d", s)
          .isEqualTo(Stillness.Answer.STILL);
    }
  }
}
