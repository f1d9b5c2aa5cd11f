package soakbench.live.arrival;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.live.DataClock;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.alarm.TrackerAlarms;
import soakbench.live.arrival.Arrival.Input;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Alarm;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;
import soakbench.readiness.Readiness;

/**
 * All clocks on the bench are wrong by hours, or a demo's run faster: what is known by arrival
 * alone is dated as all that is judged.
 */
class ClocksBehindTest {
  private static final long START_US = 1_772_352_000_000_000L;
  private static final long S = 1_000_000L;

  private long nowUs = START_US;
  private long wrongUs;
  private final SoakWatch watch =
      new SoakWatch(new MemoryStore(), Limits.DEFAULT, () -> nowUs, List.of());
  private final ArrivalWatch arrivals = new ArrivalWatch(watch::limits, () -> nowUs);
  private final LiveVerdicts live = new LiveVerdicts(watch, arrivals, () -> nowUs);
  private final DataClock dates = new DataClock(() -> nowUs);
  private final AlarmRegistry alarms = new AlarmRegistry(dates);
  private final TrackerAlarms raising = new TrackerAlarms(alarms, () -> nowUs);

  ClocksBehindTest() {
    live.follow(dates);
    live.subscribe(raising);
  }

  private static Sample sample(String tracker, long stampUs) {
    float none = Float.NaN;
    return new Sample(tracker, stampUs, 30f, false, 0.1f, 0.1f, 0.1f, none, none, none, -1, -1);
  }

  private void second(List<String> stored, List<String> heardOnly, double celsius) {
    nowUs += S;
    long stampUs = nowUs + wrongUs;
    for (String tracker : stored) {
      arrivals.heard(new Arrival(tracker, stampUs, 30, Input.LIVE));
      watch.accept(List.of(sample(tracker, stampUs)));
    }
    heardOnly.forEach(t -> arrivals.heard(new Arrival(t, stampUs, celsius, Input.LIVE)));
    watch.tick();
    live.pass();
    raising.soaking(live.readiness());
    alarms.pass(nowUs);
  }

  private void seconds(int count, List<String> stored, List<String> heardOnly, double celsius) {
    for (int i = 0; i < count; i++) {
      second(stored, heardOnly, celsius);
    }
  }

  private Readiness shown(String tracker) {
    return live.readiness(tracker).orElseThrow();
  }

  @ParameterizedTest
  @ValueSource(longs = {-6 * 3600 * S, 0, 3 * 3600 * S})
  void whoHasNoSoakYetIsDatedAsTheOthers(long wrong) {
    wrongUs = wrong;
    seconds(90, List.of("T"), List.of(), 30);
    seconds(5, List.of("T"), List.of("U"), 30);
    assertThat(shown("U").state()).isEqualTo(State.STARTING);
    assertThat(shown("U").asOfUs()).isBetween(nowUs + wrongUs - 3 * S, nowUs + wrongUs + 3 * S);
    assertThat(shown("U").sinceUs()).isBetween(nowUs + wrongUs - 7 * S, nowUs + wrongUs);
  }

  @ParameterizedTest
  @ValueSource(longs = {-6 * 3600 * S, 3 * 3600 * S})
  void anAlarmThatArrivalAloneRaisesAndEndsIsDatedAsTheOthers(long wrong) {
    wrongUs = wrong;
    seconds(90, List.of("T"), List.of(), 30);
    seconds(10, List.of("T"), List.of("U"), 60);
    seconds(60, List.of("T"), List.of("U"), 30);
    assertThat(alarms.all()).hasSize(1);
    Alarm hot = alarms.all().get(0);
    assertThat(hot.sinceUs()).isBetween(nowUs + wrongUs - 72 * S, nowUs + wrongUs - 55 * S);
    assertThat(hot.untilUs()).isBetween(hot.sinceUs(), hot.sinceUs() + 20 * S);
  }

  @Test
  void aSoakOfTheDayBeforeDatesNothingThatIsHeardNow() {
    seconds(90, List.of("T"), List.of(), 30);
    nowUs += 20 * 3600 * S;
    seconds(5, List.of(), List.of("T", "U"), 30);
    assertThat(shown("U").asOfUs()).isBetween(nowUs - 3 * S, nowUs + 3 * S);
  }
}
