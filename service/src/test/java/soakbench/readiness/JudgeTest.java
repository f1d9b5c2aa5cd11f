package soakbench.readiness;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.TauPrior;

/** One soak's verdicts, second by second, along a warm-up that is known. */
class JudgeTest {
  private static final long S = 1_000_000L;

  private final Judge judge = new Judge("T-1", "T-1@soak", SoakTerms.of(Limits.DEFAULT));

  private static double settled(double tS) {
    return 31 - 9 * Math.exp(-tS / 300);
  }

  private static Readiness judged(Judge judge, JudgedSeconds seconds, int fromS, int toS) {
    Readiness newest = null;
    for (int s = fromS; s < toS; s++) {
      newest = judge.accept(seconds.at(s), seconds.at(s + 1));
    }
    return newest;
  }

  private Readiness judged(DoubleUnaryOperator celsius, int fromS, int toS) {
    return judged(judge, new JudgedSeconds(celsius, 0.01), fromS, toS);
  }

  @Test
  void aWarmUpStartsWarmsSoaksAndIsReady() {
    assertThat(judged(JudgeTest::settled, 0, 30).state()).isEqualTo(State.STARTING);
    Readiness warming = judged(JudgeTest::settled, 30, 250);
    assertThat(warming.state()).isEqualTo(State.WARMING);
    assertThat(warming.sinceUs()).isEqualTo((JudgedSeconds.START_S + 60) * S);
    assertThat(judged(JudgeTest::settled, 250, 600).state()).isEqualTo(State.SOAKING);
    Readiness ready = judged(JudgeTest::settled, 600, 2400);
    assertThat(ready.state()).isEqualTo(State.READY);
    assertThat(ready.readyAt()).isNull();
    assertThat(ready.readyTime().reason()).isEqualTo("it is ready");
    assertThat(ready.advice()).startsWith("calibrate it now: shift ");
    assertThat(ready.conditions()).allMatch(Condition::met);
    assertThat(ready.asOfUs()).isEqualTo((JudgedSeconds.START_S + 2400) * S);
    assertThat(judge.newest()).isSameAs(ready);
    assertThat(judge.fault()).isEmpty();
  }

  @Test
  void silenceKeepsTheFiguresAndSaysWhatItInterrupted() {
    Readiness ready = judged(JudgeTest::settled, 0, 2400);
    long fromUs = judge.silentFromUs();
    assertThat(fromUs).isEqualTo((JudgedSeconds.START_S + 2399) * S + 900_000 + 10 * S);
    Readiness silent = judge.silence();
    assertThat(silent.state()).isEqualTo(State.SILENT);
    assertThat(silent.sinceUs()).isEqualTo(fromUs);
    assertThat(silent.asOfUs()).isEqualTo(fromUs);
    assertThat(silent.standing().before()).isEqualTo(State.READY);
    assertThat(silent.standing().beforeUntilUs()).isEqualTo(fromUs);
    assertThat(silent.temperatureC()).isEqualTo(ready.temperatureC());
    assertThat(silent.readyTime().reason()).isEqualTo("nothing is heard");
    assertThat(silent.advice()).isEqualTo(Readiness.SILENT_ADVICE);
    assertThat(silent.conditions().get(0).reason()).isEqualTo("nothing heard for 10 s");
  }

  @Test
  void aLoneSecondFarOffBothNeighboursIsNoTemperature() {
    judged(JudgeTest::settled, 0, 600);
    JudgedSeconds good = new JudgedSeconds(JudgeTest::settled, 0.01);
    Bin wild = new JudgedSeconds(t -> 85, 0.01).at(600);
    Readiness r = judge.accept(wild, good.at(601));
    assertThat(r.temperatureC()).isBetween(28.0, 31.0);
    // Where the next second agrees with it, it is one.
    Readiness hot = judge.accept(new JudgedSeconds(t -> 85, 0.01).at(601), wild);
    assertThat(hot.temperatureC()).isGreaterThan(r.temperatureC());
  }

  @Test
  void anExpectedTimeSaysWhetherEarlierSoaksNarrowedIt() {
    SoakTerms known = new SoakTerms(Limits.DEFAULT, new TauPrior(300, 1.1, 5));
    JudgedSeconds seconds = new JudgedSeconds(JudgeTest::settled, 0.01);
    Readiness told = judged(new Judge("T-1", "T-1@soak", known), seconds, 0, 500);
    assertThat(told.readyAt().priorUsed()).isTrue();
    Readiness alone = judged(JudgeTest::settled, 0, 500);
    assertThat(alone.readyAt().priorUsed()).isFalse();
    assertThat(alone.readyAt().earliestUs()).isBetween(alone.asOfUs(), alone.readyAt().latestUs());
    assertThat(alone.readyTime().reason()).isNull();
  }

  @Test
  void onePickedUpWhileReadyIsNotExpectedReadyAtATimeThatIsOver() {
    judged(JudgeTest::settled, 0, 2400);
    int unknown = 0;
    for (int s = 2400; s < 2600; s++) {
      double shakeDps = s < 2430 ? 20 : 0;
      JudgedSeconds seconds = new JudgedSeconds(JudgeTest::settled, 0.01).shaken(shakeDps);
      Readiness r = judge.accept(seconds.at(s), seconds.at(s + 1));
      assertThat(r.readyAt() == null || r.readyAt().latestUs() > r.asOfUs())
          .as("%d s, %s: %s", s, r.state(), r.readyTime())
          .isTrue();
      unknown += r.state() != State.READY && r.readyAt() == null ? 1 : 0;
    }
    assertThat(unknown).as("seconds without a time").isBetween(1, 10);
    assertThat(judge.newest().state()).isEqualTo(State.READY);
  }

  @Test
  void withoutATemperatureThereIsNoTimeAndTheReasonSaysSo() {
    Readiness none = judged(t -> Double.NaN, 0, 120);
    assertThat(none.state()).isEqualTo(State.STARTING);
    assertThat(none.readyTime().reason())
        .isEqualTo("not known yet, because its lines carry no temperature");
    assertThat(none.temperatureC()).isNull();
  }

  @Test
  void aMistakeOfTheProgramLeavesNoOldVerdictStanding() {
    judged(JudgeTest::settled, 0, 100);
    Bin broken = new JudgedSeconds(JudgeTest::settled, 0.01).at(100);
    Bin noAxes =
        new Bin(
            broken.tracker(),
            broken.second(),
            broken.firstUs(),
            broken.lastUs(),
            0,
            broken.temperatureC(),
            new Bin.Channel[0],
            new Bin.Channel[0],
            0.004,
            0.001);
    Readiness failed = judge.accept(noAxes, null);
    assertThat(failed.state()).isEqualTo(State.UNDECIDED);
    assertThat(failed.advice()).startsWith("can't say: a mistake of the program");
    assertThat(failed.conditions()).isEmpty();
    assertThat(judge.fault()).isPresent();
    assertThat(judge.accept(broken, null).state()).isEqualTo(State.UNDECIDED);
    assertThat(judge.warmUp().reason()).contains("a mistake of the program");
  }
}
