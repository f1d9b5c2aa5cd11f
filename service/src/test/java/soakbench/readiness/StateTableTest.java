package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.model.Limits;
import soakbench.model.State;
import soakbench.readiness.estimator.Answer;
import soakbench.readiness.estimator.TostInterval;

/** The first state of a tracker that waits, by temperature, rate, plateau and length of the fit. */
class StateTableTest {
  private final Evidences e = new Evidences();

  private State first() {
    return new StateMachine(Limits.DEFAULT, new Conditions(Limits.DEFAULT)).next(e.make());
  }

  @ParameterizedTest
  @CsvSource({
    // Below the band: on its way, not far enough, the wrong way, level.
    "25, 0.40, 31, 1200, WARMING",
    "25, 0.40, 27, 1200, STALLED",
    "25, 0.40, 27, 239, WARMING",
    "25, -0.40, 22, 1200, COOLING",
    "25, 0.01, 31, 240, STALLED",
    "25, 0.01, 31, 239, WARMING",
    // Above the band.
    "36, -0.40, 31, 1200, COOLING",
    "36, -0.40, 35, 1200, STALLED",
    "36, -0.40, 35, 239, COOLING",
    "36, 0.40, 38, 1200, STALLED",
    "36, -0.01, 31, 240, STALLED",
    // In the band: it soaks, unless it leaves for good.
    "31, 0.40, 33, 1200, SOAKING",
    "29, -0.40, 22, 1200, COOLING",
    "29, -0.40, 22, 239, SOAKING",
    "29, -0.40, 28.5, 1200, SOAKING",
    "29, -0.06, 22, 1200, SOAKING"
  })
  void whereItIsAndWhereItGoesMakeTheState(
      double nowC, double rateCPerMin, double plateauC, double spanS, State state) {
    e.temperatureC = nowC;
    e.rate = TostInterval.about(rateCPerMin, 0.02);
    e.relaxation = Evidences.relaxation(plateauC, nowC, 700);
    e.followedS = spanS;
    assertThat(first()).isEqualTo(state);
  }

  /** No state says "never" while there is a time. */
  @ParameterizedTest
  @CsvSource({
    "25, 0.40, 27, WARMING",
    "25, 0.01, 31, WARMING",
    "36, -0.40, 35, COOLING",
    "29, -0.40, 22, SOAKING"
  })
  void whereThereIsATimeItIsOnItsWay(
      double nowC, double rateCPerMin, double plateauC, State state) {
    e.temperatureC = nowC;
    e.rate = TostInterval.about(rateCPerMin, 0.02);
    e.relaxation = Evidences.relaxation(plateauC, nowC, 700);
    e.expected = new Answer.Expected(1500, 600, 400, 900);
    assertThat(first()).isEqualTo(state);
  }

  @Test
  void inTheBandADeadAxisOrCorrectedRatesAllowNoDecision() {
    e.rate = TostInterval.about(0.3, 0.02);
    assertThat(first()).isEqualTo(State.SOAKING);
    e.deadGyro = "its z axis reads one and the same value";
    assertThat(first()).isEqualTo(State.UNDECIDED);
    e.deadGyro = null;
    e.correctedInside = "its firmware corrects the rates";
    assertThat(first()).isEqualTo(State.UNDECIDED);
    e.temperatureC = 25;
    assertThat(first()).as("outside it they do not matter").isEqualTo(State.WARMING);
  }

  @ParameterizedTest
  @CsvSource({"0.0099, 600, SOAKING", "0.0101, 600, UNDECIDED", "0.0101, 599, SOAKING"})
  void noiseIsToBlameWhereTheIntervalIsWiderThanTheLimit(double half, double spanS, State state) {
    e.shift = Evidences.shift(0.004, half);
    e.followedS = spanS;
    assertThat(first()).isEqualTo(state);
  }

  @Test
  void driftThatIsShownIsNoNoise() {
    e.shift = Evidences.shift(0.04, 0.02);
    assertThat(first()).isEqualTo(State.SOAKING);
    e.shift = Evidences.shift(0.004, 0.02);
    e.expected = new Answer.Expected(1500, 600, 400, 900);
    assertThat(first()).as("it will be narrower by then").isEqualTo(State.SOAKING);
  }
}
