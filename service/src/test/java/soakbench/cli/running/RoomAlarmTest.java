package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.model.Alarm;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Found;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;
import soakbench.model.Estimate;
import soakbench.store.room.Room;
import soakbench.store.room.RoomLimits;

/** The database's room runs out, and comes back. */
class RoomAlarmTest {
  private static final long GB = 1_000_000_000L;
  private static final RoomLimits LIMITS = new RoomLimits(5 * GB, 14, null);
  private static final Estimate UNKNOWN = Estimate.unknown("a test");

  private final AlarmRegistry registry = new AlarmRegistry();
  private final RoomAlarm alarm = new RoomAlarm(registry);

  private void found(double freeGb, Estimate daysLeft, int minute) {
    Room room = new Room(GB, (long) (freeGb * GB), 100 * GB, UNKNOWN, daysLeft, null);
    long nowUs = minute * 60_000_000L;
    alarm.check(room, LIMITS, nowUs);
    registry.pass(nowUs);
  }

  private AlarmCause open() {
    return registry.all().stream().filter(Alarm::open).findFirst().map(Alarm::cause).orElse(null);
  }

  @Test
  void itIsRaisedBelowWhatIsLowBecomesSevereAtAFifthAndEndsWithRoom() {
    found(5.1, UNKNOWN, 0);
    assertThat(open()).isNull();
    found(4.9, UNKNOWN, 1);
    assertThat(open().kind()).isEqualTo(Kind.ROOM_LOW);
    assertThat(open().severity()).isEqualTo(Severity.WARNING);
    assertThat(open().found()).isEqualTo(new Found(4.9, 5, "GB"));
    assertThat(open().message()).contains("4.9 GB are left; for how long");
    assertThat(open().advice()).contains("--keep-samples-days");
    found(0.99, UNKNOWN, 2);
    assertThat(open().severity()).isEqualTo(Severity.SEVERE);
    found(20, UNKNOWN, 3);
    found(20, UNKNOWN, 4);
    assertThat(open()).isNull();
  }

  @Test
  void aDiskThatWaversAboutTheLimitMakesOneAlarm() {
    for (int minute = 0; minute < 20; minute++) {
      found(minute % 2 == 0 ? 4.98 : 5.1, UNKNOWN, minute);
    }
    assertThat(registry.all()).hasSize(1);
    assertThat(open()).isNotNull();
  }

  @Test
  void withMuchRoomAndFewDaysTheDaysAreTold() {
    found(80, Estimate.of(13, 1, 2), 0);
    assertThat(open().found()).isEqualTo(new Found(13, 14, "days"));
    assertThat(open().message()).contains("80.0 GB are left, which last 13 days (11 or more)");
    assertThat(open().severity()).isEqualTo(Severity.WARNING);
    found(80, Estimate.of(2.7, 0.1, 2), 1);
    assertThat(open().severity()).isEqualTo(Severity.SEVERE);
  }

  @Test
  void ofARoomThatIsNotKnownNothingIsSaid() {
    alarm.check(new Room(GB, null, null, UNKNOWN, UNKNOWN, "not known"), LIMITS, 0);
    assertThat(open()).isNull();
  }
}
