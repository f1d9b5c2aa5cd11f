package soakbench.api;

import java.util.List;
import soakbench.live.AlarmBook;
import soakbench.model.Alarm;

/**
 * An alarm as it is answered, sent in events and posted; its parts are those of {@link Alarm}.
 *
 * @param name what people call the tracker; null where it is about none
 * @param slot where the roster puts the tracker; null where it is about none or nowhere
 */
record AlarmView(
    String id,
    Alarm.Kind kind,
    Alarm.Severity severity,
    String tracker,
    String name,
    String slot,
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
          .time("since", AlarmView::sinceUs)
          .time("until", AlarmView::untilUs)
          .column("value", AlarmView::value)
          .column("limit", AlarmView::limit)
          .column("unit", AlarmView::unit)
          .column("message", AlarmView::message)
          .column("advice", AlarmView::advice)
          .time("acknowledged", AlarmView::acknowledgedUs)
          .column("acknowledged_by", AlarmView::acknowledgedBy);

  static AlarmView of(Alarm a, Names names) {
    return new AlarmView(
        a.id(),
        a.kind(),
        a.severity(),
        a.tracker(),
        a.tracker() == null ? null : names.of(a.tracker()),
        a.tracker() == null ? null : names.slotOf(a.tracker()),
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

  /** Those that a board shows: they hold, or ended and nobody has seen them. */
  static List<AlarmView> shown(AlarmBook book, Names names) {
    return book.all().stream().filter(a -> a.open() || a.unseen()).map(a -> of(a, names)).toList();
  }
}
