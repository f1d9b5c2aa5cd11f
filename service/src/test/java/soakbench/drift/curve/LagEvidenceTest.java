package soakbench.drift.curve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import soakbench.drift.MadeSoak;

/** When a soak tells thermal lag from the coefficient, and that both then come out. */
class LagEvidenceTest {
  private static final double[] NO_BREAK = {};

  private static StillSoak soak(int seconds, DoubleUnaryOperator celsius) {
    MadeSoak made =
        new MadeSoak(seconds, celsius)
            .bias((axis, t, c, rate) -> 0.01 * (c - 25) + 0.2 * rate)
            .noise(0.002, 0);
    return StillSoak.of(made.bins());
  }

  private static LagEvidence evidence(StillSoak soak, double... breaksS) {
    return LagEvidence.of(soak, CurveBlock.of(soak), 2, breaksS);
  }

  @Test
  void oneSmoothWarmUpCannotTellIt() {
    LagEvidence evidence = evidence(soak(3000, MadeSoak.warmUp(22, 32, 700)), NO_BREAK);
    assertThat(evidence.identified()).isFalse();
    assertThat(evidence.condition()).isNull();
    assertThat(evidence.reason()).startsWith("one smooth warm-up can't tell it");
  }

  @Test
  void aWarmingAndACoolingTellIt() {
    StillSoak soak = soak(3000, t -> t < 1500 ? 25 + 0.004 * t : 31 - 0.004 * (t - 1500));
    LagEvidence evidence = evidence(soak);
    assertThat(evidence.identified()).isTrue();
    assertThat(evidence.condition()).isBetween(1.0, 30.0);
    BiasCurveFitter fitter =
        BiasCurveFitter.of(CurveBlock.of(soak), 2, Double.POSITIVE_INFINITY, 28, soak.whiteDps());
    CurveFit fit = fitter.axes().get(0);
    assertThat(fit.unknown(fitter.design().lagIndex()).value()).isCloseTo(0.2, within(0.05));
    assertThat(fit.coefficients()[1]).isCloseTo(0.01, within(0.0005));
  }

  /** The rate jumps from 0.006 to 0.001 degC/s at a break: 0.3 degC/min. */
  @Test
  void aBreakAtWhichTheRateJumpsAsksAndOneWithoutAJumpDoesNot() {
    StillSoak soak = soak(3000, t -> t < 1200 ? 22 + 0.006 * t : 29.2 + 0.001 * (t - 1200));
    assertThat(evidence(soak, 1200).condition()).isNotNull();
    assertThat(evidence(soak, 600).condition()).as("no jump there").isNull();
    StillSoak early = soak(3000, t -> t < 250 ? 22 + 0.02 * t : 27 + 0.001 * (t - 250));
    assertThat(evidence(early, 250).condition()).as("the chip still warms").isNull();
  }

  @Test
  void blocksOfAPoseByItselfAreNotKeptAndLongSoaksAreJoined() {
    StillSoak soak = soak(8 * 3600, t -> 31 - 9 * Math.exp(-t / 800));
    assertThat(soak.blocks()).hasSizeGreaterThan(900);
    assertThat(CurveBlock.of(soak)).hasSizeBetween(20, 160);
    double seconds = CurveBlock.of(soak).stream().mapToDouble(CurveBlock::widthS).sum();
    assertThat(seconds).as("none is lost").isCloseTo(8 * 3600, within(60.0));
  }
}
