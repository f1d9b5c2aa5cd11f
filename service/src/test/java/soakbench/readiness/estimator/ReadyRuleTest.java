package soakbench.readiness.estimator;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import soakbench.model.Limits;

/** How ready is entered and left, block by block and second by second, by hand. */
class ReadyRuleTest {
  private static final Outlook CALM = outlook(0.002, 0.001);
  private static final Outlook DRIFTING = outlook(0.02, 0.001);

  private final ReadyRule rule = new ReadyRule(Limits.DEFAULT);
  private double nowS;
  private double temperatureC = 31;
  private boolean still = true;
  private boolean heard = true;
  private boolean coarse;

  private static Outlook outlook(double shiftDps, double rateCPerS) {
    Spread[][] shifts = new Spread[3][RoomModel.HORIZONS];
    for (Spread[] axis : shifts) {
      java.util.Arrays.fill(axis, one(shiftDps, 0.001));
    }
    return new Outlook(one(rateCPerS, 0.0001), shifts);
  }

  private static Spread one(double mean, double sd) {
    return new Spread(new double[] {1}, new double[] {mean}, new double[] {sd});
  }

  /** Ten seconds, at whose end the block tells by how much the worst is over its limit. */
  private void block(double over, Outlook outlook, boolean surprised) {
    for (int i = 0; i < 10; i++) {
      nowS++;
      if (i == 0) {
        rule.block(nowS - 1, over, outlook, surprised);
      }
      rule.second(nowS, still, heard, temperatureC, coarse);
    }
  }

  private void calm(int blocks) {
    for (int i = 0; i < blocks; i++) {
      block(-0.5, CALM, false);
    }
  }

  @Test
  void readyComesAfterAMinuteOfEverything() {
    nowS = 100;
    calm(6);
    assertThat(rule.ready()).isTrue();
    // From the first settled block's middle, five seconds before its end.
    assertThat(rule.dwellS(nowS)).isEqualTo(65);
  }

  @Test
  void theDwellBeginsWhereTheLimitWasCrossedBetweenTwoBlocks() {
    nowS = 100;
    block(1, DRIFTING, false);
    block(-1, CALM, false);
    // The blocks' middles are at 95 and 105 s: halfway between them nothing is over.
    assertThat(rule.dwellS(nowS)).isCloseTo(120 - 100, within(1e-9));
  }

  @Test
  void aBreakInTheMinuteBeginsItAgain() {
    calm(5);
    block(1, CALM, false);
    calm(5);
    assertThat(rule.ready()).isFalse();
    calm(2);
    assertThat(rule.ready()).isTrue();
  }

  @Test
  void aCoarseThermometerNeedsTwoMinutes() {
    coarse = true;
    calm(11);
    assertThat(rule.ready()).isFalse();
    calm(2);
    assertThat(rule.ready()).isTrue();
    assertThat(rule.neededS(true)).isEqualTo(120);
    assertThat(rule.neededS(false)).isEqualTo(60);
  }

  @Test
  void withoutStillnessOrLinesItDoesNotBecomeReadyThoughTheDwellRuns() {
    still = false;
    calm(8);
    assertThat(rule.ready()).isFalse();
    still = true;
    heard = false;
    calm(1);
    assertThat(rule.ready()).isFalse();
    heard = true;
    calm(1);
    assertThat(rule.ready()).isTrue();
  }

  @Test
  void motionTheBandAndABarEndItAtOnce() {
    calm(8);
    still = false;
    rule.second(++nowS, still, heard, temperatureC, coarse);
    assertThat(rule.ready()).isFalse();
    still = true;
    calm(1);
    assertThat(rule.ready()).as("the dwell ran on").isTrue();
    temperatureC = 34.16;
    rule.second(++nowS, still, heard, temperatureC, coarse);
    assertThat(rule.ready()).isFalse();
    temperatureC = 34.14;
    calm(8);
    assertThat(rule.ready()).as("the band's margin").isTrue();
    rule.bar();
    assertThat(rule.ready()).isFalse();
    assertThat(rule.dwellS(nowS)).isZero();
  }

  @Test
  void driftThatIsLikelyEndsItWhenItLastsAndAtOnceAfterASurprise() {
    calm(8);
    block(2, DRIFTING, false);
    block(2, DRIFTING, false);
    assertThat(rule.ready()).as("ten seconds").isTrue();
    block(2, DRIFTING, false);
    assertThat(rule.ready()).as("twenty seconds").isFalse();
    calm(8);
    assertThat(rule.ready()).isTrue();
    block(2, DRIFTING, true);
    assertThat(rule.ready()).isFalse();
    assertThat(ReadyRule.alert(130, 100)).isTrue();
    assertThat(ReadyRule.alert(131, 100)).isFalse();
  }

  @Test
  void doubtAloneDoesNotEndIt() {
    calm(8);
    for (int i = 0; i < 60; i++) {
      block(0.2, CALM, false);
    }
    assertThat(rule.ready()).isTrue();
    assertThat(rule.dwellS(nowS)).isZero();
  }

  @Test
  void aRateFarOverItsLimitEndsItToo() {
    calm(8);
    // 0.16 degC/min of 0.10, more than one and a half times as much.
    Outlook fast = outlook(0.002, 0.16 / 60);
    block(0.6, fast, false);
    block(0.6, fast, false);
    block(0.6, fast, false);
    assertThat(rule.ready()).isFalse();
  }
}
