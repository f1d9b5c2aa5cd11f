package soakbench.api.alarms;

import java.util.List;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.live.alarm.AlarmBook;
import soakbench.model.Alarm;

/**
 * An alarm as it is answered, sent in events and posted; its parts are those of {@link Alarm}.
 *
 * @param name what people call the tracker; null where it is about none
 * @param slot where the roster puts the tracker; null where it is about none or nowhere
 * @param rack the same of the rack; the rack itself where it is about one as a whole
 */
public record AlarmView(
    String id,
    Alarm.Kind kind,
    Alarm.Severity severity,
    String tracker,
    String name,
    String slot,
    String rack,
    long sinceUs,
    Long untilUs,
    Double value,
    Double limit,
    String unit,
    String message,
    String advice,
    Long acknowledgedUs,
    String acknowledgedBy) {

  static final Table<AlarmView> TABLE =
      new Table<AlarmView>()
          .column("id", AlarmView::id)
          .column("kind", AlarmView::kind)
          .column("severity", AlarmView::severity)
          .column("tracker", AlarmView::tracker)
          .column("name", AlarmView::name)
          .column("slot", AlarmView::slot)
          .column("rack", AlarmView::rack)
          .time("since", AlarmView::sinceUs)
          .time("until", AlarmView::untilUs)
          .column("value", AlarmView::value)
          .column("limit", AlarmView::limit)
          .column("unit", AlarmView::unit)
          .column("message", AlarmView::message)
          .column("advice", AlarmView::advice)
          .time("acknowledged", AlarmView::acknowledgedUs)
          .column("acknowledged_by", AlarmView::acknowledgedBy);

  static AlarmView of(Alarm a, TrackerNames names) {
    return new AlarmView(
        a.id(),
        a.kind(),
        a.severity(),
        a.tracker(),
        a.tracker() == null ? null : names.of(a.tracker()),
        a.tracker() == null ? null : names.slotOf(a.tracker()),
        rack(a, names),
        a.sinceUs(),
        a.untilUs(),
        a.value(),
        a.limit(),
        a.unit(),
        a.message(),
        a.advice(),
        a.acknowledgedUs(),
        a.acknowledgedBy());
  }

  private static String rack(Alarm a, TrackerNames names) {
    String rack = a.tracker() == null ? a.rack() : names.rackOf(a.tracker());
    return rack == null || rack.isEmpty() ? null : rack;
  }

  /**
   * Whom it is about, as people call it: {@code Kestrel, slot W3}, a rack, or nothing where it is
   * about neither.
   */
  String whom() {
    if (tracker == null) {
      return rack == null ? "" : "rack " + rack;
    }
    return slot == null ? name : name + ", slot " + slot;
  }

  /** Those that a board shows: they hold, or are of heat that ended and that nobody has seen. */
  public static List<AlarmView> shown(AlarmBook book, TrackerNames names) {
    return book.all().stream()
        .filter(a -> a.open() || a.kind().heat() && a.unseen())
        .map(a -> of(a, names))
        .toList();
  }
}
