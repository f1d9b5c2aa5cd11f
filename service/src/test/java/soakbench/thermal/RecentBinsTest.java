package soakbench.thermal;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;

class RecentBinsTest {
  private final RecentBins bins = new RecentBins(120);

  /** Level until {@code bendS}, then 0.01 degC/s. */
  private void seconds(int fromS, int toS, int bendS) {
    for (int s = fromS; s < toS; s++) {
      bins.add(s + 0.5, 25 + 0.01 * Math.max(0, s - bendS));
    }
  }

  @Test
  void theNewestMinuteAndTheOneBeforeItAreAskedForApart() {
    seconds(0, 240, 179);
    assertThat(bins.slope(0, 60).cPerS()).isCloseTo(0.01, within(1e-9));
    assertThat(bins.slope(60, 60).cPerS()).isCloseTo(0, within(1e-9));
  }

  @Test
  void theyAreStillThereAfterManyHours() {
    seconds(0, 10_000, 9939);
    assertThat(bins.slope(0, 60).cPerS()).isCloseTo(0.01, within(1e-9));
    assertThat(bins.slope(60, 60).cPerS()).isCloseTo(0, within(1e-9));
  }

  @Test
  void fewerThanTenSecondsAreNoSlope() {
    assertThat(bins.slope(0, 60)).isNull();
    seconds(0, 9, 0);
    assertThat(bins.slope(0, 60)).isNull();
    seconds(9, 10, 0);
    assertThat(bins.slope(0, 60)).isNotNull();
    assertThat(bins.slope(60, 60)).isNull();
  }

  @Test
  void readingsMoreThanFiveSecondsApartAreSparse() {
    assertThat(bins.sparse()).isFalse();
    bins.add(0.5, 25);
    bins.add(5.5, 25);
    assertThat(bins.sparse()).isFalse();
    bins.add(10.6, 25);
    assertThat(bins.sparse()).isTrue();
  }
}
