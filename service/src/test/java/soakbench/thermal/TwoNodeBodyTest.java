package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;

/**
 * Newton's model in closed form: a body towards its surroundings, and a chip towards its body,
 * which its own power keeps warmer. The chip of two nodes is a sum of two exponentials whose
 * amounts follow from both constants.
 */
class TwoNodeBodyTest {
  private static final long START_S = 1_772_352_000;
  private static final Channel[] NONE = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};

  private static WarmUpCurve curve(int seconds, DoubleUnaryOperator celsius) {
    SplittableRandom random = new SplittableRandom(8);
    List<Bin> bins = new ArrayList<>();
    for (int s = 0; s < seconds; s++) {
      double c = celsius.applyAsDouble(s + 0.5) + 0.003 * random.nextGaussian();
      long us = (START_S + s) * 1_000_000;
      Channel channel = new Channel(10, c, 0.01);
      bins.add(new Bin("T", START_S + s, us, us + 900_000, 0, channel, NONE, NONE, 0.004, 0.001));
    }
    return WarmUpAnalysis.of(bins);
  }

  /** Chip above a body from 20 to 30 degC; the chip gets 2 degC warmer than it. */
  private static double chipC(double tS, double chipS, double bodyS) {
    double slow = -10 * bodyS / (bodyS - chipS);
    double fast = 20 - 32 - slow;
    return 32 + slow * Math.exp(-tS / bodyS) + fast * Math.exp(-tS / chipS);
  }

  @Test
  void theClosedFormSolvesTheTwoEquations() {
    // d chip / dt = (body + 2 - chip) / 30, by central differences.
    for (double t : new double[] {1, 10, 60, 600, 3000}) {
      double slope = (chipC(t + 0.01, 30, 800) - chipC(t - 0.01, 30, 800)) / 0.02;
      double body = 30 - 10 * Math.exp(-t / 800);
      assertThat(slope).isCloseTo((body + 2 - chipC(t, 30, 800)) / 30, within(1e-6));
    }
    assertThat(chipC(0, 30, 800)).isCloseTo(20, within(1e-12));
  }

  @ParameterizedTest
  @CsvSource({"20, 500", "45, 1200"})
  void bothConstantsComeBackFromARecordFromPowerOn(double chipS, double bodyS) {
    WarmUpCurve curve = curve(3600, t -> chipC(t, chipS, bodyS));
    assertThat(curve.timeConstantsS()).hasSize(2);
    assertThat(curve.timeConstantsS().get(0).value()).isCloseTo(chipS, within(0.05 * chipS));
    assertThat(curve.timeConstantsS().get(1).value()).isCloseTo(bodyS, within(0.02 * bodyS));
    assertThat(curve.plateauC().value()).isCloseTo(32, within(0.02));
    assertThat(curve.startC().value()).isCloseTo(20, within(0.1));
    assertThat(curve.breaksUs()).isEmpty();
  }

  @ParameterizedTest
  @CsvSource({"20, 31, 400", "45, 30, 900"})
  void oneBodyWarmsAndCoolsByNewtonsLaw(double startC, double plateauC, double tauS) {
    WarmUpCurve curve = curve(3600, t -> plateauC + (startC - plateauC) * Math.exp(-t / tauS));
    int slowest = curve.timeConstantsS().size() - 1;
    assertThat(curve.timeConstantsS().get(slowest).low()).isLessThan(tauS);
    assertThat(curve.timeConstantsS().get(slowest).high()).isGreaterThan(tauS);
    assertThat(curve.plateauC().value()).isCloseTo(plateauC, within(0.02));
  }
}
