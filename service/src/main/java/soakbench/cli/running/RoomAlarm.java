package soakbench.cli.running;

import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.alarm.Levels;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.About;
import soakbench.model.AlarmCause.Found;
import soakbench.model.AlarmCause.Kind;
import soakbench.store.room.Room;
import soakbench.store.room.RoomLimits;

/** Raises the alarm that the database's room runs out, before it is gone. Not thread-safe. */
final class RoomAlarm {
  private static final double GB = 1e9;

  /** In percent of how near it is: a fifth of what is low is severe. */
  private static final double LOW = 100;

  private static final double VERY_LOW = 500;
  private static final double BELOW = 5;

  private final AlarmRegistry registry;
  private final Levels levels = new Levels(LOW, VERY_LOW, BELOW);

  RoomAlarm(AlarmRegistry registry) {
    this.registry = registry;
  }

  /** Checks what was found. */
  void check(Room room, RoomLimits limits, long nowUs) {
    if (levels.take(room.nearnessPercent(limits)) > 0) {
      registry.report(cause(room, limits), nowUs);
    } else {
      registry.gone(Kind.ROOM_LOW, null, nowUs);
    }
  }

  private AlarmCause cause(Room room, RoomLimits limits) {
    return new AlarmCause(
        Kind.ROOM_LOW,
        levels.severity(),
        new About(null, null),
        room.soonerByDays(limits)
            ? new Found(room.daysLeft().value(), limits.lowDays(), "days")
            : new Found(room.freeBytes() / GB, limits.lowBytes() / GB, "GB"),
        room.words(),
        "Make room on its disk, or keep samples for fewer days (--keep-samples-days). When it is"
            + " full nothing is stored or judged, and a rack that is read here fills the spool.");
  }
}
