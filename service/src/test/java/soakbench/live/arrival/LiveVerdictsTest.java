package soakbench.live.arrival;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.alarm.TrackerAlarms;
import soakbench.live.arrival.Arrival.Input;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Alarm;
import soakbench.model.AlarmCause;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;
import soakbench.readiness.Heat;
import soakbench.readiness.Readiness;

class LiveVerdictsTest {
  private static final long START_US = 1_772_352_000_000_000L;
  private static final long HOUR_US = 3_600_000_000L;

  private long nowUs = START_US;
  private final SoakWatch watch =
      new SoakWatch(new MemoryStore(), Limits.DEFAULT, () -> nowUs, List.of());
  private final ArrivalWatch arrivals = new ArrivalWatch(watch::limits, () -> nowUs);
  private final LiveVerdicts live = new LiveVerdicts(watch, arrivals, () -> nowUs);
  private final AlarmRegistry alarms = new AlarmRegistry();
  private final TrackerAlarms raising = new TrackerAlarms(alarms, () -> nowUs);
  private final List<Readiness> heard = new ArrayList<>();
  private final SplittableRandom random = new SplittableRandom(5);

  @BeforeEach
  void listen() {
    live.subscribe(raising);
    live.subscribe(heard::addAll);
  }

  /** One second of one tracker with this stamp: it arrives, is stored, and time passes. */
  private void second(long stampUs, double celsius, Input input) {
    arrives(stampUs, celsius, input);
    watch.accept(List.of(sample(stampUs, celsius)));
    passes();
  }

  private void arrives(long stampUs, double celsius, Input input) {
    nowUs += 1_000_000;
    arrivals.heard(new Arrival("T", stampUs, celsius, input));
  }

  private void passes() {
    watch.tick();
    live.pass();
    raising.soaking(live.readiness());
  }

  private void nothing(int seconds) {
    for (int i = 0; i < seconds; i++) {
      nowUs += 1_000_000;
      passes();
    }
  }

  private static Sample sample(long timeUs, double celsius) {
    float none = Float.NaN;
    return new Sample(
        "T", timeUs, (float) celsius, false, 0.1f, 0.1f, 0.1f, none, none, none, -1, -1);
  }

  private Readiness shown() {
    return live.readiness("T").orElseThrow();
  }

  private List<AlarmCause.Kind> open() {
    return alarms.all().stream().filter(Alarm::open).map(Alarm::kind).toList();
  }

  @Test
  void whereNothingArrivesTheVerdictsAreAsTheyAre() {
    for (int i = 0; i < 20; i++) {
      watch.accept(List.of(sample(START_US + 1_000_000L * i, 30)));
    }
    assertThat(live.readiness()).isEqualTo(watch.readiness()).hasSize(1);
  }

  @Test
  void theTemperatureShownIsTheNewestThatArrived() {
    for (int i = 0; i < 10; i++) {
      second(nowUs + 1_000_000, 30, Input.LIVE);
    }
    arrives(nowUs + 1_000_000, 33, Input.LIVE);
    assertThat(shown().temperatureC()).isEqualTo(33);
    assertThat(watch.readiness("T").orElseThrow().temperatureC()).isEqualTo(30);
  }

  /** Each pause is as long as all others, so none is a silence; the last one goes on. */
  @Test
  void aStreamThatSendsOnceInElevenSecondsIsSilentAfterTwentyTwo() {
    List<State> states = new ArrayList<>();
    for (int i = 0; i < 30; i++) {
      second(nowUs + 1_000_000, 30, Input.LIVE);
      for (int s = 0; s < 10; s++) {
        nothing(1);
        live.readiness("T").ifPresent(r -> states.add(r.state()));
      }
    }
    assertThat(states.subList(60, states.size())).doesNotContain(State.SILENT);
    nothing(11);
    assertThat(shown().state()).isNotEqualTo(State.SILENT);
    nothing(2);
    assertThat(shown().state()).isEqualTo(State.SILENT);
    assertThat(watch.readiness("T").orElseThrow().state()).isEqualTo(State.SILENT);
  }

  @Test
  void aClockThatWasAheadHidesNoHeat() {
    for (int i = 0; i < 10; i++) {
      second(nowUs + 50_000_000, 30, Input.LIVE);
    }
    for (int i = 0; i < 5; i++) {
      second(nowUs + 1_000_000, 70, Input.LIVE);
    }
    assertThat(shown().state()).isEqualTo(State.HOT);
    assertThat(shown().temperatureC()).isEqualTo(70);
    assertThat(shown().advice()).startsWith("uncover it now").contains("70.0 °C is over 45.0 °C");
    assertThat(open()).containsExactly(AlarmCause.Kind.HOT);
  }

  @Test
  void whatIsNotJudgedForLongIsUndecidedWithTheReasonAndNeverSilent() {
    for (int i = 0; i < 30; i++) {
      second(nowUs + 3 * HOUR_US, 30, Input.LIVE);
    }
    for (int i = 0; i < 60; i++) {
      arrives(nowUs + 1_000_000 - 2 * HOUR_US, 31, Input.LIVE);
      live.pass();
      assertThat(shown().state()).isNotEqualTo(State.SILENT);
    }
    assertThat(shown().state()).isEqualTo(State.UNDECIDED);
    assertThat(shown().advice())
        .isEqualTo(
            "can't say: its times can't be used: its clock is 2 h behind; heat is watched all the"
                + " same");
    assertThat(shown().temperatureC()).isEqualTo(31);
    assertThat(open()).isEmpty();
  }

  @Test
  void aTrackerWithoutASoakIsThereAndItsHeatRaisesAnAlarm() {
    for (int i = 0; i < 30; i++) {
      arrives(1_000_000L * i, 30, Input.LIVE);
      live.pass();
    }
    assertThat(shown().soak()).isNull();
    assertThat(shown().state()).isEqualTo(State.UNDECIDED);
    for (int i = 0; i < 5; i++) {
      arrives(30_000_000L + 1_000_000L * i, 70, Input.LIVE);
      live.pass();
    }
    assertThat(shown().state()).isEqualTo(State.HOT);
    assertThat(open()).containsExactly(AlarmCause.Kind.HOT);
    assertThat(heard).extracting(Readiness::state).contains(State.HOT);
  }

  @Test
  void aLoneLineIsNoTracker() {
    arrives(nowUs, 30, Input.LIVE);
    live.pass();
    assertThat(live.readiness()).isEmpty();
    assertThat(heard).isEmpty();
  }

  @Test
  void silenceByArrivalIsShownBeforeTheJudgeNoticesIt() {
    for (int i = 0; i < 20; i++) {
      second(nowUs + 1_000_000, 30, Input.LIVE);
    }
    nowUs += 11_000_000;
    live.pass();
    assertThat(watch.readiness("T").orElseThrow().state()).isNotEqualTo(State.SILENT);
    assertThat(shown().state()).isEqualTo(State.SILENT);
    assertThat(shown().standing().before()).isEqualTo(watch.readiness("T").orElseThrow().state());
    nothing(6);
    assertThat(open()).containsExactly(AlarmCause.Kind.SILENT);
  }

  @Test
  void heatIsKeptWhereAHotOneFallsSilent() {
    for (int i = 0; i < 20; i++) {
      second(nowUs + 1_000_000, 60, Input.LIVE);
    }
    nothing(20);
    assertThat(shown().state()).isEqualTo(State.SILENT);
    assertThat(shown().heat()).isNotNull();
    assertThat(open()).containsExactlyInAnyOrder(AlarmCause.Kind.HOT, AlarmCause.Kind.SILENT);
  }

  @Test
  void oneThatWasTakenOffAndSwitchedOffIsNotShown() {
    for (int i = 0; i < 20; i++) {
      second(nowUs + 1_000_000, 30, Input.LIVE);
    }
    watch.end(shown().soak());
    live.pass();
    assertThat(live.readiness()).isEmpty();
    nothing(30);
    assertThat(live.readiness()).isEmpty();
    assertThat(open()).isEmpty();
  }

  @Test
  void oneThatComesBackHotAfterItsSoakEndedIsSeenWhileNothingIsStored() {
    for (int i = 0; i < 20; i++) {
      second(nowUs + 1_000_000, 30, Input.LIVE);
    }
    nothing(660);
    assertThat(live.readiness()).isEmpty();
    for (int i = 0; i < 5; i++) {
      arrives(nowUs + 1_000_000, 70, Input.LIVE);
      live.pass();
    }
    assertThat(shown().state()).isEqualTo(State.HOT);
    assertThat(open()).contains(AlarmCause.Kind.HOT);
  }

  @Test
  void oneThatIsHotWhenItsSoakIsEndedIsThereForAsLongAsItIsHeard() {
    for (int i = 0; i < 20; i++) {
      second(nowUs + 1_000_000, 60, Input.LIVE);
    }
    watch.end(shown().soak());
    live.pass();
    assertThat(shown().state()).isEqualTo(State.HOT);
    nothing(60);
    assertThat(live.readiness()).isEmpty();
  }

  @Test
  void whileNothingIsJudgedOneThatHeadedForTooHotStillDoes() {
    for (int i = 0; i < 1500; i++) {
      second(nowUs + 1_000_000, warmingUpC(i), Input.LIVE);
    }
    assertThat(open()).containsExactly(AlarmCause.Kind.HEADING_HOT);
    assertThat(alarms.all().get(0).cause().message())
        .matches(".* passes 45.0 °C in .* from when this was raised\\.");
    for (int i = 1500; i < 1590; i++) {
      arrives(nowUs + 1_000_000, warmingUpC(i), Input.LIVE);
      live.pass();
      raising.soaking(live.readiness());
      alarms.pass(nowUs);
    }
    assertThat(shown().state()).isEqualTo(State.UNDECIDED);
    assertThat(shown().heat().kind()).isEqualTo(Heat.Kind.HEADING_HOT);
    assertThat(open()).containsExactly(AlarmCause.Kind.HEADING_HOT);
  }

  private double warmingUpC(int second) {
    return 49.7 - 29.7 * Math.exp(-second / 1000.0) + 0.003 * random.nextGaussian();
  }

  @Test
  void aHotRecordingOfThePastShowsAndRaisesNothing() {
    long old = START_US - 100 * HOUR_US;
    for (int i = 0; i < 600; i++) {
      nowUs += 1_000;
      arrivals.heard(new Arrival("T", old + 1_000_000L * i, 70, Input.POSTED));
      watch.accept(List.of(sample(old + 1_000_000L * i, 70)));
      live.pass();
    }
    nothing(15);
    assertThat(live.readiness()).isEmpty();
    assertThat(heard).isEmpty();
    assertThat(alarms.all()).isEmpty();
  }

  @Test
  void afterARestartASoakThatNothingComesOfIsSilentByTheJudge() {
    for (int i = 0; i < 20; i++) {
      watch.accept(List.of(sample(START_US + 1_000_000L * i, 30)));
    }
    nothing(20);
    assertThat(shown().state()).isEqualTo(State.SILENT);
    assertThat(open()).containsExactly(AlarmCause.Kind.SILENT);
  }

  @Test
  void aListenersMistakeStopsNobody() {
    List<Readiness> later = new ArrayList<>();
    live.subscribe(
        verdicts -> {
          throw new IllegalStateException("a mistake");
        });
    live.subscribe(later::addAll);
    for (int i = 0; i < 5; i++) {
      second(nowUs + 1_000_000, 30, Input.LIVE);
    }
    assertThat(later).isNotEmpty();
  }
}
