package soakbench.api.alarms;

import com.fasterxml.jackson.databind.JsonSerializable;
import java.util.List;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.live.alarm.AlarmBook;
import soakbench.model.Alarm;

/** An alarm as it is answered, sent in events and posted: with name and place of its tracker. */
public final class AlarmTable {
  private AlarmTable() {}

  static Table<Alarm> of(TrackerNames names) {
    return new Table<Alarm>()
        .column("id", Alarm::id)
        .column("kind", Alarm::kind)
        .column("severity", Alarm::severity)
        .column("tracker", Alarm::tracker)
        .column("name", a -> a.tracker() == null ? null : names.of(a.tracker()))
        .column("slot", a -> a.tracker() == null ? null : names.slotOf(a.tracker()))
        .column("rack", a -> rack(a, names))
        .time("since", Alarm::sinceUs)
        .time("until", Alarm::untilUs)
        .column("value", Alarm::value)
        .column("limit", Alarm::limit)
        .column("unit", Alarm::unit)
        .column("message", Alarm::message)
        .column("advice", Alarm::advice)
        .time("acknowledged", Alarm::acknowledgedUs)
        .column("acknowledged_by", Alarm::acknowledgedBy);
  }

  /** Where it is about one as a whole, that; null where none is known. */
  private static String rack(Alarm a, TrackerNames names) {
    String rack = a.tracker() == null ? a.rack() : names.rackOf(a.tracker());
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

  /** Those that a board shows: they hold, or are of heat that ended and that nobody has seen. */
  public static List<JsonSerializable> shown(AlarmBook book, TrackerNames names) {
    return of(names)
        .json(book.all().stream().filter(a -> a.open() || a.kind().heat() && a.unseen()).toList());
  }
}
