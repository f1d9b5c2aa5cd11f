package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.assertj.core.data.Offset;
import org.hipparchus.distribution.continuous.TDistribution;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.numerics.Measured;
import soakbench.numerics.Noises;

class BiasModelTest {
  private static final double REFERENCE_C = 31;
  private static final int BLOCKS = 80;
  private static final double WHITE = 0.012;
  private static final double FLICKER = 0.0015;

  private static double temperature(double tS) {
    return 31.8 - 8 * Math.exp(-tS / 800);
  }

  private static double curve(double celsius) {
    double d = celsius - REFERENCE_C;
    return 0.02 * d - 0.0008 * d * d;
  }

  /** Blocks of a warm-up in three poses with an offset each, noise from one-second readings. */
  private static List<BiasBlock> blocks(double[] noise) {
    List<BiasBlock> out = new ArrayList<>();
    for (int i = 0; i < BLOCKS; i++) {
      double mid = 30 * i + 15;
      int pose = i / 30;
      double mean = 0;
      for (int s = 0; s < 30; s++) {
        mean += noise[30 * i + s] / 30;
      }
      double bias = 0.3 + 0.01 * pose + curve(temperature(mid)) + mean;
      out.add(new BiasBlock(mid, 30, temperature(mid), new double[] {bias, 0, 0}, pose));
    }
    return out;
  }

  private static BiasModel fit(double[] noise) {
    return BiasModel.of(blocks(noise), 0, 2, REFERENCE_C, WHITE, Double.NaN, null);
  }

  @Test
  void withoutNoiseTheCurveAndTheNewestOffsetComeOut() {
    BiasModel m = fit(new double[30 * BLOCKS]);
    assertThat(m.slopeCoefficients()[0]).isEqualTo(0.02, Offset.offset(1e-9));
    assertThat(m.slopeCoefficients()[1]).isEqualTo(-0.0008, Offset.offset(1e-9));
    assertThat(m.offsetDps()).isEqualTo(0.32, Offset.offset(1e-9));
    assertThat(m.difference(26, 32).value()).isEqualTo(curve(32) - curve(26), Offset.offset(1e-8));
    assertThat(m.slopeAt(27).value()).isEqualTo(0.02 + 0.0016 * 4, Offset.offset(1e-8));
  }

  /**
   * As from a gyro that prints the same numbers over and over, through a gap in which it got hot:
   * two temperatures, a curve of third order by its span, and next to no noise.
   */
  @Test
  void ratesAsGoodAsWithoutNoiseAtTwoTemperaturesAreFitted() {
    List<BiasBlock> blocks = new ArrayList<>();
    for (int i = 0; i < 6; i++) {
      double celsius = i < 4 ? 24.5 : 75;
      blocks.add(new BiasBlock(30 * i + 15, 30, celsius, new double[] {0.303, 0.303, 0.303}, 0));
    }
    BiasModel.Prior prior = new BiasModel.Prior(0.05, 0.003, 0.0003);
    BiasModel m = BiasModel.of(blocks, 0, 3, 75, 1e-6, Double.NaN, prior);
    assertThat(m.difference(24.5, 75).value()).isEqualTo(0, Offset.offset(1e-6));
    assertThat(m.difference(24.5, 75).se()).isBetween(0.0, 1e-4);
    assertThat(m.difference(24.5, 50).se()).as("between them").isGreaterThan(0.1);
  }

  @Test
  void theIntervalsCoverWithWhiteAndFlickerNoise() {
    double q = new TDistribution(BLOCKS - 5).inverseCumulativeProbability(0.975);
    int slope = 0;
    int shift = 0;
    int far = 0;
    for (int run = 0; run < 100; run++) {
      double[] white = Noises.white(30 * BLOCKS, WHITE, 7000 + run);
      double[] flicker = Noises.flicker(30 * BLOCKS, FLICKER, 9000 + run);
      BiasModel m = fit(Noises.sum(white, flicker));
      slope += covers(m.slopeAt(REFERENCE_C), 0.02, q);
      shift += covers(m.difference(31.2, 31.5), curve(31.5) - curve(31.2), q);
      far += covers(m.difference(25, 31), curve(31) - curve(25), q);
    }
    assertThat(slope).as("percent: slope").isBetween(88, 99);
    assertThat(shift).as("percent: small difference").isBetween(88, 99);
    assertThat(far).as("percent: large difference").isBetween(88, 99);
  }

  private static int covers(Measured found, double truth, double q) {
    return Math.abs(found.value() - truth) <= q * found.se() ? 1 : 0;
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.0008, 0.003, 0.01})
  void theLikelihoodFindsTheFlickerWithinAFactorOfTwo(double flicker) {
    double sum = 0;
    for (int run = 0; run < 12; run++) {
      double[] white = Noises.white(30 * BLOCKS, WHITE, 300 + run);
      double[] slow = Noises.flicker(30 * BLOCKS, flicker, 500 + run);
      sum += Math.log(fit(Noises.sum(white, slow)).flickerDps()) / 12;
    }
    assertThat(Math.exp(sum)).isBetween(flicker / 2, flicker * 2);
  }

  @Test
  void aBeliefHoldsTheSlopeWhileTheTemperatureHasNotMoved() {
    List<BiasBlock> level = new ArrayList<>();
    for (int i = 0; i < 8; i++) {
      level.add(new BiasBlock(30 * i + 15, 30, 25, new double[] {0.3, 0, 0}, 0));
    }
    BiasModel.Prior belief = new BiasModel.Prior(0.05, 0.003, 0.0003);
    BiasModel m = BiasModel.of(level, 0, 1, 25, WHITE, Double.NaN, belief);
    assertThat(m.slopeCoefficients()[0]).isEqualTo(0, Offset.offset(1e-6));
    assertThat(m.slopeAt(25).se()).isEqualTo(0.05, Offset.offset(1e-4));
  }

  @Test
  void theOrderFollowsTheSpan() {
    assertThat(BiasModel.orderForSpan(2.99)).isEqualTo(1);
    assertThat(BiasModel.orderForSpan(3)).isEqualTo(2);
    assertThat(BiasModel.orderForSpan(7.99)).isEqualTo(2);
    assertThat(BiasModel.orderForSpan(8)).isEqualTo(3);
  }
}
