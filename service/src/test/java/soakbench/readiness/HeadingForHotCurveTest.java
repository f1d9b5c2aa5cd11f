package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.SplittableRandom;
import java.util.function.IntToDoubleFunction;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.State;

/** What is said along curves whose end is known. */
class HeadingForHotCurveTest {
  private static final long START_S = 1_772_352_000;

  private final Judge judge = new Judge("T", "T@curve", SoakTerms.of(Limits.DEFAULT));
  private SplittableRandom random;
  private int second;
  private Readiness newest;
  private int firstHotS = -1;

  @BeforeEach
  void begin() {
    random = new SplittableRandom(5);
  }

  private void seconds(int count, IntToDoubleFunction celsius) {
    Channel[] none = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    for (int i = 0; i < count; i++, second++) {
      long us = (START_S + second) * 1_000_000;
      double read = celsius.applyAsDouble(second) + 0.01 * random.nextGaussian();
      Channel c = Double.isNaN(read) ? Channel.EMPTY : new Channel(10, read, 0.02);
      newest =
          judge.accept(
              new Bin("T", START_S + second, us, us + 900_000, 0, c, none, none, 0.004, 0.001),
              null);
      firstHotS = firstHotS < 0 && newest.state() == State.HOT ? second : firstHotS;
    }
  }

  private static IntToDoubleFunction towards(double startC, double plateauC, double tauS) {
    return s -> plateauC + (startC - plateauC) * Math.exp(-s / tauS);
  }

  @Test
  void aSteepBeginFromColdIsNotHeadingForHot() {
    seconds(5400, towards(20, 33, 400));
    assertThat(firstHotS).isNegative();
  }

  @Test
  void aRoomThatWarmsEvenlyForHalfAnHourIsNotHeadingForHot() {
    seconds(900, towards(22, 29, 300));
    double from = 29 - 7 * Math.exp(-3);
    seconds(1500, s -> from + 0.003 * (s - 900));
    assertThat(firstHotS).isNegative();
  }

  @Test
  void aPlateauBelowTheLimitIsStalledAndNotHot() {
    seconds(5400, towards(20, 43, 900));
    assertThat(firstHotS).isNegative();
    assertThat(newest.state()).isEqualTo(State.STALLED);
  }

  @Test
  void itSaysWhereItHeadsAndWhenItPasses() {
    seconds(1500, towards(20, 49.7, 1000));
    assertThat(newest.state()).isEqualTo(State.HOT);
    Heat heat = newest.heat();
    assertThat(heat.kind()).isEqualTo(Heat.Kind.HEADING_HOT);
    assertThat(heat.value()).isBetween(49.0, 50.4);
    double passesS = 1000 * Math.log(29.7 / 4.7);
    assertThat(heat.passesAtUs() / 1e6 - START_S).isBetween(passesS - 45, passesS + 45);
    assertThat(heat.reason())
        .matches("heading for \\d+\\.\\d ± \\d\\.\\d °C, passes 45.0 °C in .*");
    assertThat(newest.advice()).startsWith("uncover it soon");
    assertThat(newest.readyAt()).isNull();
  }

  @Test
  void aPlateauJustAboveTheLimitIsToldBeforeItIsReached() {
    seconds(4600, towards(20, 45.3, 1000));
    double passesS = 1000 * Math.log(25.3 / 0.3);
    assertThat(firstHotS).isPositive().isLessThan((int) passesS - 180);
  }

  @Test
  void onceUncoveredItIsSoonNoLongerHeadingForHot() {
    seconds(1200, towards(20, 55, 1000));
    assertThat(newest.state()).isEqualTo(State.HOT);
    double from = 55 - 35 * Math.exp(-1.2);
    seconds(120, s -> 22 + (from - 22) * Math.exp(-(s - 1200) / 300.0));
    assertThat(newest.state()).isNotEqualTo(State.HOT);
    assertThat(newest.heat()).isNull();
  }

  @Test
  void whileItsTemperatureIsNotKnownItStillHeadsForHot() {
    seconds(1500, towards(20, 49.7, 1000));
    long passesUs = newest.heat().passesAtUs();
    seconds(300, s -> Double.NaN);
    assertThat(newest.heat().kind()).isEqualTo(Heat.Kind.HEADING_HOT);
    assertThat(newest.heat().passesAtUs()).isBetween(passesUs - 60_000_000, passesUs + 60_000_000);
    seconds(240, s -> 30);
    assertThat(newest.heat()).isNull();
  }

  @Test
  void whileItHeadsForHotInTheBandItIsNotReady() {
    seconds(700, towards(27, 60, 2500));
    assertThat(newest.temperatureC()).isBetween(28.0, 36.0);
    assertThat(newest.state()).isEqualTo(State.HOT);
  }
}
