package soakbench.api.alarms;

import com.fasterxml.jackson.databind.JsonSerializable;
import java.util.List;
import java.util.function.Function;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.model.Alarm;
import soakbench.model.Alarm.Seen;
import soakbench.model.AlarmCause.Found;

/** An alarm as it is answered, sent in events and posted: with name and place of its tracker. */
public final class AlarmTable {
  private AlarmTable() {}

  static Table<Alarm> of(TrackerNames names) {
    return new Table<Alarm>()
        .column("id", Alarm::id)
        .column("kind", Alarm::kind)
        .column("severity", a -> a.cause().severity())
        .column("tracker", Alarm::tracker)
        .column("name", a -> a.tracker() == null ? null : names.of(a.tracker()))
        .column("slot", a -> a.tracker() == null ? null : names.slotOf(a.tracker()))
        .column("rack", a -> rack(a, names))
        .time("since", Alarm::sinceUs)
        .time("until", Alarm::untilUs)
        .column("value", found(Found::value))
        .column("limit", found(Found::limit))
        .column("unit", found(Found::unit))
        .column("message", a -> a.cause().message())
        .column("advice", a -> a.cause().advice())
        .time("acknowledged", seen(Seen::atUs))
        .column("acknowledged_by", seen(Seen::by));
  }

  private static <T> Function<Alarm, T> found(Function<Found, T> part) {
    return a -> a.cause().found() == null ? null : part.apply(a.cause().found());
  }

  private static <T> Function<Alarm, T> seen(Function<Seen, T> part) {
    return a -> a.seen() == null ? null : part.apply(a.seen());
  }

  /** Where it is about one as a whole, that; null where none is known. */
  private static String rack(Alarm a, TrackerNames names) {
    String rack = a.tracker() == null ? a.cause().about().rack() : names.rackOf(a.tracker());
    return rack == null || rack.isEmpty() ? null : rack;
  }

  /**
   * Whom it is about, as people call it: {@code Kestrel, slot W3}, a rack, or nothing where it is
   * about neither.
   */
  static String whom(Alarm a, TrackerNames names) {
    if (a.tracker() == null) {
      return rack(a, names) == null ? "" : "rack " + rack(a, names);
    }
    String slot = names.slotOf(a.tracker());
    return slot == null ? names.of(a.tracker()) : names.of(a.tracker()) + ", slot " + slot;
  }

  /**
   * Those that a board shows: open ones, and ended ones about heat that nobody has acknowledged.
   */
  public static List<JsonSerializable> shown(AlarmRegistry registry, TrackerNames names) {
    return of(names)
        .json(
            registry.all().stream()
                .filter(a -> a.open() || a.kind().heat() && a.unseen())
                .toList());
  }
}
