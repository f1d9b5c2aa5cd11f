package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.EnumSet;
import java.util.Set;
import org.junit.jupiter.api.Test;
import soakbench.model.Limits;
import soakbench.model.State;
import soakbench.readiness.estimator.TostInterval;

class StateMachineTest {
  private final Evidences e = new Evidences();
  private final StateMachine machine =
      new StateMachine(Limits.DEFAULT, new Conditions(Limits.DEFAULT));

  private State after(double seconds) {
    State state = null;
    for (int i = 0; i < seconds; i++) {
      e.tS++;
      state = machine.next(e.make());
    }
    return state;
  }

  private void unsettle() {
    e.rate = TostInterval.about(0.09, 0.02);
  }

  @Test
  void heatGoesBeforeMotionAndMotionBeforeReady() {
    e.ready = true;
    e.hotReason = "50 °C";
    e.movedS = e.tS + 1;
    assertThat(after(1)).isEqualTo(State.HOT);
    e.hotReason = null;
    assertThat(after(1)).isEqualTo(State.DISTURBED);
    e.movedS = Double.NEGATIVE_INFINITY;
    assertThat(after(1)).isEqualTo(State.READY);
    machine.silent();
    e.ready = false;
    assertThat(after(1)).isEqualTo(State.SOAKING);
  }

  @Test
  void aWaitingStateChangesWhenTheNewOneHasLasted() {
    unsettle();
    assertThat(after(5)).isEqualTo(State.SOAKING);
    e.temperatureC = 27.9;
    assertThat(after(15)).isEqualTo(State.SOAKING);
    assertThat(after(1)).isEqualTo(State.WARMING);
  }

  @Test
  void everyStateIsReached() {
    Set<State> seen = EnumSet.of(State.SILENT);
    unsettle();
    e.tS = 10;
    seen.add(after(1));
    e.rate = TostInterval.about(0.03, 0.02);
    e.tS = 1500;
    seen.add(after(20));
    e.ready = true;
    seen.add(after(1));
    e.ready = false;
    e.movedS = e.tS;
    seen.add(after(1));
    e.movedS = Double.NEGATIVE_INFINITY;
    e.hotReason = "50 °C";
    seen.add(after(1));
    e.hotReason = null;
    e.rates = false;
    seen.add(after(1));
    e.rates = true;
    seen.add(fresh(e2 -> e2.temperatureC = 25));
    seen.add(
        fresh(
            e2 -> {
              e2.temperatureC = 25;
              e2.relaxation = Evidences.relaxation(26, 25, 700);
            }));
    seen.add(
        fresh(
            e2 -> {
              e2.temperatureC = 36;
              e2.rate = TostInterval.about(-0.3, 0.02);
              e2.relaxation = Evidences.relaxation(31, 36, 700);
            }));
    assertThat(seen).containsExactlyInAnyOrder(State.values());
  }

  private static State fresh(java.util.function.Consumer<Evidences> change) {
    Evidences one = new Evidences();
    one.rate = TostInterval.about(0.4, 0.02);
    one.relaxation = Evidences.relaxation(31, 25, 700);
    change.accept(one);
    return new StateMachine(Limits.DEFAULT, new Conditions(Limits.DEFAULT)).next(one.make());
  }

  @Test
  void outsideTheBandItWarmsCoolsOrStalls() {
    assertThat(fresh(x -> x.temperatureC = 25)).isEqualTo(State.WARMING);
    assertThat(fresh(x -> plateau(x, 25, 27, 0.4))).isEqualTo(State.STALLED);
    assertThat(fresh(x -> plateau(x, 36, 31, -0.3))).isEqualTo(State.COOLING);
    assertThat(fresh(x -> plateau(x, 36, 35, -0.3))).isEqualTo(State.STALLED);
    assertThat(fresh(x -> plateau(x, 36, 38, 0.3))).isEqualTo(State.STALLED);
    assertThat(fresh(x -> plateau(x, 27, 22, -0.4))).isEqualTo(State.COOLING);
    assertThat(fresh(x -> plateau(x, 29, 22, -0.4))).isEqualTo(State.COOLING);
    assertThat(fresh(x -> plateau(x, 25, 25, 0.01))).isEqualTo(State.STALLED);
  }

  private static void plateau(Evidences x, double nowC, double plateauC, double rateCPerMin) {
    x.temperatureC = nowC;
    x.rate = TostInterval.about(rateCPerMin, 0.02);
    x.relaxation = Evidences.relaxation(plateauC, nowC, 700);
  }

  @Test
  void noiseThatHidesTheAnswerIsUndecidedAfterTenMinutes() {
    assertThat(fresh(x -> noisy(x, 700))).isEqualTo(State.UNDECIDED);
    assertThat(fresh(x -> noisy(x, 500))).isEqualTo(State.SOAKING);
  }

  private static void noisy(Evidences x, double spanS) {
    x.relaxation = Evidences.relaxation(31.2, 31, 700);
    x.rate = TostInterval.about(0.01, 0.02);
    x.shift = Evidences.shift(0.001, 0.02);
    x.followedS = spanS;
  }

  @Test
  void theFirstMinuteIsAStart() {
    assertThat(fresh(x -> x.tS = 59.9)).isEqualTo(State.STARTING);
    assertThat(fresh(x -> x.tS = 60)).isEqualTo(State.SOAKING);
    assertThat(fresh(x -> x.temperatureC = Double.NaN)).isEqualTo(State.STARTING);
    assertThat(fresh(x -> x.rate = null)).isEqualTo(State.STARTING);
  }
}
