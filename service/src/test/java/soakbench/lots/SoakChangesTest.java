package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** One soak's figures against those of the soak before. */
class SoakChangesTest {
  private static UnitSoak soak(int day, double xDpsPerC) {
    return UnitFixtures.soak(
        day,
        30,
        22,
        32,
        UnitFixtures.axis("x", 0.0005, 0, xDpsPerC),
        UnitFixtures.axis("y", 0.0005, 0, 0.01),
        UnitFixtures.axis("z", 0.0005, 0, 0.01));
  }

  @Test
  void aFirstSoakHasNothingToBeComparedWith() {
    assertThat(SoakChanges.newest(List.of(soak(1, 0.02)))).isNull();
  }

  @Test
  void aCoefficientThatMovedIsToldWithBothAndTheirDifference() {
    SoakChanges changes = SoakChanges.newest(List.of(soak(2, 0.03), soak(1, 0.02)));
    assertThat(changes.soak()).isEqualTo("KITE-1@1");
    SoakChanges.Change x = changes.differences().get(0);
    assertThat(x.figure()).isEqualTo("coefficient of x at 30.0 degC");
    assertThat(x.was().value()).isEqualTo(0.02);
    assertThat(x.is().value()).isEqualTo(0.03);
    assertThat(x.difference().value()).isCloseTo(0.01, within(1e-12));
    assertThat(x.difference().se()).isCloseTo(Math.hypot(x.was().se(), x.is().se()), within(1e-12));
    assertThat(x.beyondChance()).isTrue();
    assertThat(changes.words())
        .startsWith("coefficient of x at 30.0 degC +0.0100 +- ")
        .contains("deg/s per degC; no change shown in the other 3 figures");
  }

  @Test
  void equalSoaksShowNoChange() {
    SoakChanges changes = SoakChanges.newest(List.of(soak(2, 0.02), soak(1, 0.02)));
    assertThat(changes.differences()).isNotEmpty().noneMatch(SoakChanges.Change::beyondChance);
    assertThat(changes.words())
        .isEqualTo("no change shown in any of " + changes.differences().size() + " figures");
  }

  @Test
  void chanceShowsSomeChangeInAboutFiveOfAHundredPairs() {
    Random random = new Random(7);
    int pairs = 1000;
    int shown = 0;
    for (int i = 0; i < pairs; i++) {
      SoakChanges c = SoakChanges.newest(List.of(noisy(2, random), noisy(1, random)));
      shown += c.differences().stream().anyMatch(SoakChanges.Change::beyondChance) ? 1 : 0;
    }
    assertThat(shown).isBetween(pairs / 100, pairs * 8 / 100);
  }

  /** Each coefficient off by the error that it claims. */
  private static UnitSoak noisy(int day, Random random) {
    double se = soak(1, 0).figures().axes().get(0).tempcoDpsPerC().se();
    AxisFigures[] axes = new AxisFigures[3];
    for (int i = 0; i < 3; i++) {
      axes[i] =
          UnitFixtures.axis(
              List.of("x", "y", "z").get(i), 0.0005, 0, 0.02 + se * random.nextGaussian());
    }
    return UnitFixtures.soak(day, 30, 22, 32, axes);
  }
}
