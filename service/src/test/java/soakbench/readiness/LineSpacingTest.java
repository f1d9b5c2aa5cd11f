package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class LineSpacingTest {
  private final LineSpacing spacing = new LineSpacing();

  private void every(double seconds, int times) {
    for (int i = 0; i < times; i++) {
      spacing.heard(seconds, seconds);
    }
  }

  @ParameterizedTest
  @CsvSource({"0.1, 10", "1, 10", "2.9, 10", "3.1, 10", "6, 12", "11, 22", "60, 120", "200, 300"})
  void aStreamIsSilentAfterTwoOfItsUsualPausesButNeverSoonerThanAnyOther(
      double everyS, double silentAfterS) {
    every(everyS, 40);
    assertThat(spacing.silentAfterS(10)).isCloseTo(silentAfterS, within(1e-9));
  }

  @Test
  void threePausesShowThatItIsSlow() {
    every(11, 2);
    assertThat(spacing.silentAfterS(10)).isEqualTo(10);
    every(11, 1);
    assertThat(spacing.silentAfterS(10)).isEqualTo(22);
  }

  @Test
  void whatDropsOutOfAQuickStreamChangesNothing() {
    for (int i = 0; i < 8; i++) {
      every(0.1, 1000);
      every(45, 1);
      assertThat(spacing.silentAfterS(10)).isEqualTo(10);
    }
  }

  @Test
  void aSilenceIsNoUsualPause() {
    every(11, 20);
    every(150, 1);
    assertThat(spacing.silentAfterS(10)).isEqualTo(22);
  }

  @Test
  void aStreamThatIsQuickAgainIsSilentAsSoonAsAny() {
    every(11, 40);
    every(1, 240);
    assertThat(spacing.silentAfterS(10)).isEqualTo(10);
  }
}
