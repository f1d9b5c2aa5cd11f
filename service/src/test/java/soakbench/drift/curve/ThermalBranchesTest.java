package soakbench.drift.curve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.MadeSoak;
import soakbench.model.Estimate;

/** Branches and hysteresis of loops whose truth is a formula. */
class ThermalBranchesTest {

  /** Up at this rate from 25 degC for so long, then down as far as given. */
  private static List<CurveBlock> loop(double cPerMin, int upBlocks, int downBlocks) {
    double rate = cPerMin / 60;
    double topS = 30.0 * upBlocks;
    return CurveBlocks.of(
        upBlocks + downBlocks,
        t -> 25 + rate * (t < topS ? t : 2 * topS - t),
        celsius -> 0.01 * (celsius - 25));
  }

  @Test
  void whatWasPassedBothWaysIsSeenBothWays() {
    ThermalBranches branches = ThermalBranches.of(loop(0.4, 40, 20));
    assertThat(branches.overlap()).isTrue();
    assertThat(branches.highC()).isCloseTo(33, within(0.21));
    assertThat(branches.lowC()).as("down by 4 degC").isCloseTo(29, within(0.21));
    assertThat(branches.seenBothWays(loop(0.4, 40, 20))).hasSizeBetween(37, 42);
  }

  @Test
  void aSmoothWarmUpHasOneBranch() {
    assertThat(ThermalBranches.of(loop(0.4, 40, 0)).overlap()).isFalse();
    assertThat(ThermalBranches.of(loop(0.4, 40, 2)).overlap()).as("two blocks").isFalse();
  }

  /** Half a degree a minute: faster, a lag would pass for hysteresis. */
  @ParameterizedTest
  @CsvSource({"0.49, true", "0.51, false", "0.04, false"})
  void onlySlowBlocksCountForHysteresis(double cPerMin, boolean overlap) {
    assertThat(ThermalBranches.slow(loop(cPerMin, 60, 50)).overlap()).isEqualTo(overlap);
  }

  @ParameterizedTest
  @CsvSource({"0.05, true", "0.3, true", "0.7, true"})
  void allBlocksCountForLagHoweverFast(double cPerMin, boolean overlap) {
    assertThat(ThermalBranches.of(loop(cPerMin * 1.01, 60, 50)).overlap()).isEqualTo(overlap);
  }

  /** A triangle of ten degrees in fifty minutes and back, warming 0.03 deg/s above cooling. */
  private static StillSoak looped(double warmingMoreDps, double cPerMin) {
    double topS = 10 / (cPerMin / 60);
    MadeSoak made =
        new MadeSoak(
                (int) (2 * topS),
                t -> t < topS ? 25 + cPerMin / 60 * t : 35 - cPerMin / 60 * (t - topS))
            .bias((axis, t, c, rate) -> 0.01 * (c - 25) + (rate > 0 ? warmingMoreDps : 0))
            .noise(0.002, 0);
    return StillSoak.of(made.bins());
  }

  @Test
  void aKnownLoopsHysteresisComesOut() {
    StillSoak soak = looped(0.03, 0.2);
    for (Estimate e : Hysteresis.of(soak, CurveBlock.of(soak))) {
      assertThat(e.value()).isCloseTo(0.03, within(0.004));
      assertThat(e.low()).isGreaterThan(0);
    }
  }

  @Test
  void aLoopWithoutHysteresisHasNoneWithinItsLimits() {
    StillSoak soak = looped(0, 0.2);
    for (Estimate e : Hysteresis.of(soak, CurveBlock.of(soak))) {
      assertThat(e.low()).isLessThan(0);
      assertThat(e.high()).isGreaterThan(0);
    }
  }

  @Test
  void aLoopThatIsTooFastTellsNothing() {
    StillSoak soak = looped(0.03, 0.8);
    assertThat(Hysteresis.of(soak, CurveBlock.of(soak)))
        .allSatisfy(
            e ->
                assertThat(e.reason())
                    .startsWith("needs the same temperatures seen both ways, warming and cooling"));
  }
}
