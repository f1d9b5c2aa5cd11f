package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.alarm.TrackerAlarms;
import soakbench.live.arrival.Arrival;
import soakbench.live.arrival.Arrival.Input;
import soakbench.live.arrival.ArrivalWatch;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Alarm;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;

/** The computer's date is set while a tracker is watched. */
class SteppedDateTest {
  private static final long START_US = 1_772_352_000_000_000L;
  private static final long HOUR_US = 3_600_000_000L;
  private static final int BEFORE_S = 120;

  private long runningUs = START_US;
  private long correctionUs;

  private final EventClock clock =
      new EventClock() {
        @Override
        public long nowUs() {
          return runningUs + correctionUs;
        }

        @Override
        public long runningUs() {
          return runningUs;
        }
      };

  private final SoakWatch watch = new SoakWatch(new MemoryStore(), Limits.DEFAULT, clock);
  private final ArrivalWatch arrivals = new ArrivalWatch(watch::limits, clock);
  private final LiveVerdicts live = new LiveVerdicts(watch, arrivals, clock);
  private final DataClock dates = new DataClock(clock);
  private final AlarmRegistry registry = new AlarmRegistry(dates);
  private final TrackerAlarms alarms = new TrackerAlarms(registry, clock);
  private final List<State> shown = new ArrayList<>();

  SteppedDateTest() {
    watch.useLiveness(arrivals);
    live.follow(dates);
    live.subscribe(alarms);
  }

  private static Sample sample(long timeUs, float celsius) {
    float none = Float.NaN;
    return new Sample(
        Samples.TRACKER, timeUs, celsius, false, 0.1f, 0.2f, 0.3f, none, none, none, -1, -1);
  }

  private void hear(int seconds, double celsius) {
    for (int i = 0; i < seconds; i++) {
      runningUs += 1_000_000;
      Sample sample = sample(clock.nowUs(), (float) celsius);
      arrivals.heard(new Arrival(sample.tracker(), sample.timeUs(), celsius, Input.LIVE));
      watch.accept(List.of(sample));
      look();
    }
  }

  private void nothing(int seconds) {
    for (int i = 0; i < seconds; i++) {
      runningUs += 1_000_000;
      look();
    }
  }

  private void look() {
    watch.tick();
    live.pass();
    alarms.soaking(live.readiness());
    registry.pass(clock.runningUs());
    live.readiness(Samples.TRACKER).ifPresent(v -> shown.add(v.state()));
  }

  private List<Kind> open() {
    return registry.all().stream().filter(Alarm::open).map(Alarm::kind).toList();
  }

  @ParameterizedTest
  @ValueSource(longs = {3 * HOUR_US, -3 * HOUR_US, 40_000_000, -40_000_000, 20L * 8766 * HOUR_US})
  void noTrackerFallsSilentForItAndHeatIsSeenAfterIt(long stepUs) {
    hear(BEFORE_S, 25);
    correctionUs += stepUs;
    look();
    hear(20, 25);
    assertThat(shown).doesNotContain(State.SILENT);
    assertThat(open()).isEmpty();
    hear(6, 70);
    assertThat(live.readiness(Samples.TRACKER).orElseThrow().state()).isEqualTo(State.HOT);
    assertThat(open()).contains(Kind.HOT);
    hear(60, 25);
    assertThat(open()).doesNotContain(Kind.HOT);
  }

  @Test
  void silenceIsToldInTimeAlsoWhereTheDateIsSetBackMeanwhile() {
    hear(BEFORE_S, 25);
    nothing(5);
    correctionUs -= 3 * HOUR_US;
    nothing(20);
    assertThat(live.readiness(Samples.TRACKER).orElseThrow().state()).isEqualTo(State.SILENT);
    assertThat(open()).containsExactly(Kind.SILENT);
  }
}
