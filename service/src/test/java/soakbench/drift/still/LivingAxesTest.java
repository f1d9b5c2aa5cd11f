package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import soakbench.drift.Bins;

class LivingAxesTest {
  private final LivingAxes axes = new LivingAxes();
  private final Bins living = new Bins(3);
  private final Bins stuck = new Bins(3).noise(0).bias(0.3, -0.2, 0);
  private int second;

  private void of(Bins source, int seconds, int readings) {
    for (int i = 0; i < seconds; i++) {
      axes.accept(source.second(second++, readings, 0));
    }
  }

  @Test
  void whatReadsOneValueForAMinuteIsDeadWhicheverValueItIs() {
    of(stuck, 59, 10);
    assertThat(axes.dead()).isEmpty();
    // Sums of 9 and of 10 equal readings differ in their last digit.
    of(stuck, 1, 9);
    assertThat(axes.dead()).containsExactly(0, 1, 2);
    of(living, 1, 10);
    assertThat(axes.dead()).isEmpty();
  }

  @Test
  void whatLivedAndReadsOneValueForAMinuteHasDied() {
    of(living, 600, 10);
    of(stuck, 60, 10);
    assertThat(axes.dead()).as("the first of them was another value").isEmpty();
    of(stuck, 1, 10);
    assertThat(axes.dead()).containsExactly(0, 1, 2);
  }

  @Test
  void aCoarseStepOnWhichItRestsForLongIsNoDeath() {
    of(living, 60, 10);
    of(stuck, 12, 10);
    of(living, 60, 10);
    of(stuck, 600, 10);
    assertThat(axes.dead()).isEmpty();
  }
}
