package soakbench.live.alarm;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.model.Alarm;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

class AlarmRegistryTest {
  private static final long S = 1_000_000L;

  private final AlarmRegistry registry = new AlarmRegistry();
  private final List<String> told = new ArrayList<>();

  @BeforeEach
  void listen() {
    registry.subscribe((change, alarm) -> told.add(change + " " + alarm.kind()));
  }

  private static AlarmCause cause(Kind kind, Severity severity, String tracker) {
    return AlarmCause.plain(kind, severity, tracker, "It is so.", "Look.");
  }

  private void hot(long nowUs) {
    registry.report(cause(Kind.HOT, Severity.SEVERE, "T-1"), nowUs);
  }

  private Alarm only() {
    assertThat(registry.all()).hasSize(1);
    return registry.all().get(0);
  }

  @Test
  void anAlarmHoldsUntilItsCauseHasBeenGoneForHalfAMinute() {
    hot(S);
    assertThat(only().open()).isTrue();
    assertThat(only().id()).isEqualTo("hot:T-1@19700101T000001000Z");
    registry.gone(Kind.HOT, "T-1", 10 * S);
    registry.pass(40 * S - 1);
    assertThat(only().open()).isTrue();
    registry.pass(40 * S);
    assertThat(only().untilUs()).isEqualTo(10 * S);
    assertThat(told).containsExactly("RAISED HOT", "ENDED HOT");
  }

  @Test
  void aValueThatSwingsAboutItsLimitForAnHourMakesOneAlarm() {
    for (int s = 0; s < 3600; s++) {
      if (s % 20 < 10) {
        hot(s * S);
      } else {
        registry.gone(Kind.HOT, "T-1", s * S);
      }
      registry.pass(s * S);
    }
    assertThat(registry.all()).hasSize(1);
    assertThat(told).filteredOn(line -> line.startsWith("RAISED")).hasSize(1);
    assertThat(told).doesNotContain("ENDED HOT");
  }

  @Test
  void theFirstAcknowledgementCountsAndStaysWhileTheAlarmHolds() {
    hot(S);
    registry.acknowledge(only().id(), "Ada", 2 * S);
    registry.acknowledge(only().id(), "Bo", 3 * S);
    assertThat(only().seen().by()).isEqualTo("Ada");
    assertThat(only().seen().atUs()).isEqualTo(2 * S);
    hot(4 * S);
    assertThat(only().unseen()).isFalse();
    assertThat(told).containsExactly("RAISED HOT", "ACKNOWLEDGED HOT");
    assertThat(registry.acknowledge("hot:T-2@19700101T000001000Z", null, S)).isEmpty();
  }

  @Test
  void anAlarmThatEndedUnseenCanStillBeAcknowledged() {
    hot(S);
    registry.gone(Kind.HOT, "T-1", 2 * S);
    registry.pass(60 * S);
    assertThat(registry.acknowledge(only().id(), null, 70 * S)).isPresent();
    assertThat(only().unseen()).isFalse();
    assertThat(only().open()).isFalse();
  }

  @Test
  void anAlarmThatBecomesSevereHasToBeSeenAgain() {
    registry.report(cause(Kind.SPOOL_FILLING, Severity.WARNING, null), S);
    registry.acknowledge(only().id(), null, 2 * S);
    registry.report(cause(Kind.SPOOL_FILLING, Severity.SEVERE, null), 3 * S);
    assertThat(only().cause().severity()).isEqualTo(Severity.SEVERE);
    assertThat(only().unseen()).isTrue();
    assertThat(only().sinceUs()).isEqualTo(S);
    registry.report(cause(Kind.SPOOL_FILLING, Severity.WARNING, null), 4 * S);
    assertThat(only().cause().severity()).isEqualTo(Severity.SEVERE);
    assertThat(told).contains("WORSE SPOOL_FILLING");
  }

  @Test
  void onlySevereAlarmsThatNobodyHasSeenAreToldAgain() {
    hot(0);
    registry.report(cause(Kind.SILENT, Severity.WARNING, "T-1"), 0);
    registry.pass(299 * S);
    assertThat(told).doesNotContain("REMINDED HOT");
    registry.pass(300 * S);
    registry.pass(301 * S);
    assertThat(told).filteredOn("REMINDED HOT"::equals).hasSize(1);
    registry.acknowledge("hot:T-1@19700101T000000000Z", null, 302 * S);
    registry.pass(900 * S);
    assertThat(told).filteredOn(line -> line.startsWith("REMINDED")).hasSize(1);
  }

  @Test
  void aListenersMistakeKeepsNoAlarmFromTheOthers() {
    AlarmRegistry other = new AlarmRegistry();
    other.subscribe(
        (change, alarm) -> {
          throw new IllegalStateException("a mistake");
        });
    other.subscribe((change, alarm) -> told.add(change + " " + alarm.kind()));
    other.report(cause(Kind.HOT, Severity.SEVERE, "T-1"), 0);
    other.report(cause(Kind.SILENT, Severity.WARNING, "T-2"), 0);
    assertThat(told).containsExactly("RAISED HOT", "RAISED SILENT");
  }

  @Test
  void endedAlarmsAreForgottenAfterHalfADayAndNeverGrowWithoutBound() {
    for (int i = 0; i < AlarmRegistry.MOST_ENDED + 50; i++) {
      registry.report(cause(Kind.SILENT, Severity.WARNING, "T-" + i), i * S);
    }
    registry.goneButFor(List.of("T-3"), 1000 * S);
    registry.pass(2000 * S);
    assertThat(registry.all()).hasSize(AlarmRegistry.MOST_ENDED + 1);
    assertThat(only(registry.all())).isEqualTo("T-3");
    registry.pass(1000 * S + AlarmRegistry.LISTED_FOR.toSeconds() * S + 1);
    assertThat(only().tracker()).isEqualTo("T-3");
  }

  private static String only(List<Alarm> alarms) {
    List<Alarm> open = alarms.stream().filter(Alarm::open).toList();
    assertThat(open).hasSize(1);
    return open.get(0).tracker();
  }
}
