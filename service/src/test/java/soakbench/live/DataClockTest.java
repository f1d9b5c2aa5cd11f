package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;
import soakbench.model.State;
import soakbench.readiness.GivenVerdicts;
import soakbench.readiness.Readiness;

class DataClockTest {
  private static final long S = 1_000_000L;
  private static final long NOON = 43_200;

  private final AtomicLong nowUs = new AtomicLong(NOON * S);
  private final DataClock clock = new DataClock(nowUs::get);

  private static Readiness verdict(String tracker, long asOfS) {
    return GivenVerdicts.of(tracker, State.SOAKING, asOfS, 60, null);
  }

  private long toldS() {
    return clock.applyAsLong(nowUs.get()) / S;
  }

  @Test
  void itIsTheServicesWhereNothingIsJudgedOrVerdictsAreOnlySecondsOld() {
    assertThat(toldS()).isEqualTo(NOON);
    clock.judged(List.of(verdict("T-1", NOON - 3)));
    assertThat(toldS()).isEqualTo(NOON);
  }

  @Test
  void itIsTheNewestVerdictsWhereDataRunOtherwiseAndGoesOnBetweenThem() {
    clock.judged(List.of(verdict("T-1", 20_000), verdict("T-2", 20_030)));
    assertThat(toldS()).isEqualTo(20_030);
    nowUs.addAndGet(7 * S);
    assertThat(toldS()).isEqualTo(20_037);
    clock.judged(List.of(verdict("T-1", 20_025)));
    assertThat(toldS()).as("an older verdict").isEqualTo(20_037);
    clock.update(List.of(verdict("T-1", 20_025)));
    assertThat(toldS()).as("the newest has gone").isEqualTo(20_025);
  }

  @Test
  void alarmsAreDatedByItAndTheirSpansAreNot() {
    AlarmRegistry registry = new AlarmRegistry(clock);
    clock.judged(List.of(verdict("T-1", 20_000)));
    AlarmCause hot = AlarmCause.plain(Kind.HOT, Severity.SEVERE, "T-1", "It is so.", "Look.");
    registry.report(hot, nowUs.get());
    assertThat(registry.all().get(0).sinceUs()).isEqualTo(20_000 * S);
    assertThat(registry.all().get(0).id()).isEqualTo("hot:T-1@19700101T053320000Z");
    // A demo at thirty times the speed: a minute of it is two seconds.
    nowUs.addAndGet(2 * S);
    clock.judged(List.of(verdict("T-1", 20_060)));
    registry.gone(Kind.HOT, "T-1", nowUs.get());
    nowUs.addAndGet(AlarmRegistry.GONE_FOR.toSeconds() * S - 1);
    clock.judged(List.of(verdict("T-1", 20_900)));
    registry.pass(nowUs.get());
    assertThat(registry.all().get(0).open()).isTrue();
    nowUs.addAndGet(1);
    registry.pass(nowUs.get());
    assertThat(registry.all().get(0).untilUs()).isEqualTo(20_060 * S);
    registry.acknowledge(registry.all().get(0).id(), "Ada", nowUs.get());
    assertThat(registry.all().get(0).seen().atUs()).isBetween(20_900 * S, 20_901 * S);
  }
}
