package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import soakbench.model.Limits;

class HeatJudgeTest {
  private final HeatJudge heat = new HeatJudge(Limits.DEFAULT);
  private double tS = 0.5;

  private void seconds(int count, double celsius, int readings, Double riseCPerMin) {
    for (int i = 0; i < count; i++) {
      heat.accept(tS++, celsius, readings, riseCPerMin);
    }
  }

  @Test
  void threeSecondsAtTheLimitAreHot() {
    seconds(2, 45, 10, 0.0);
    assertThat(heat.hot()).isFalse();
    seconds(1, 45, 10, 0.0);
    assertThat(heat.hot()).isTrue();
    assertThat(heat.reason()).contains("45.0 °C");
  }

  @Test
  void justBelowIsNotHot() {
    seconds(600, 44.99, 10, 0.0);
    assertThat(heat.hot()).isFalse();
    assertThat(heat.reason()).isNull();
  }

  @Test
  void aLonePowerOnReadingIsNotHot() {
    seconds(1, 85, 1, null);
    seconds(1, 22, 10, null);
    seconds(2, 85, 1, null);
    seconds(1, 22, 10, null);
    assertThat(heat.hot()).isFalse();
  }

  @Test
  void threeReadingsAreEnoughForASlowStream() {
    seconds(3, 50, 1, null);
    assertThat(heat.hot()).isTrue();
  }

  @Test
  void itIsHotUntilItIsHalfADegreeCooler() {
    seconds(3, 46, 10, 0.0);
    seconds(60, 44.6, 10, 0.0);
    assertThat(heat.hot()).isTrue();
    seconds(2, 44.4, 10, 0.0);
    assertThat(heat.hot()).isTrue();
    seconds(1, 44.4, 10, 0.0);
    assertThat(heat.hot()).isFalse();
  }

  @Test
  void aRiseOfMoreThanFiveDegreesAMinuteIsHotOnceTheChipIsWarm() {
    seconds(60, 25, 10, 9.0);
    assertThat(heat.hot()).isFalse();
    seconds(2, 25, 10, 5.1);
    assertThat(heat.hot()).isFalse();
    seconds(1, 25, 10, 5.1);
    assertThat(heat.hot()).isTrue();
    assertThat(heat.reason()).isEqualTo("rising 5.1 °C/min, over 5.0");
  }

  @Test
  void readingsThatArriveAreHotAfterThreeSecondsByEitherClock() {
    HeatJudge own = new HeatJudge(Limits.DEFAULT);
    HeatJudge arrival = new HeatJudge(Limits.DEFAULT);
    for (int i = 0; i < 31; i++) {
      assertThat(own.hot()).isFalse();
      assertThat(arrival.hot()).isFalse();
      own.reading(0.1 * i, 0.1, 0, 50, null);
      arrival.reading(0.001 * i, 0.001, 0.1, 50, null);
    }
    assertThat(own.hot()).isTrue();
    assertThat(arrival.hot()).isTrue();
  }

  @Test
  void threeReadingsOfASlowStreamAreNeeded() {
    heat.reading(0, 0, 0, 50, null);
    heat.reading(10, 10, 10, 50, null);
    assertThat(heat.hot()).isFalse();
    heat.reading(20, 10, 10, 50, null);
    assertThat(heat.hot()).isTrue();
  }

  @Test
  void fiveDegreesAMinuteAreAllowed() {
    seconds(600, 25, 10, 5.0);
    assertThat(heat.hot()).isFalse();
  }
}
