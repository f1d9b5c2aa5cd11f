package soakbench.model;

/**
 * Why there should be an alarm now; its parts are those of {@link Alarm}.
 *
 * @param tracker null where it is about none
 * @param rack null where it is about none; empty for the trackers that have none
 */
public record AlarmCause(
    Alarm.Kind kind,
    Alarm.Severity severity,
    String tracker,
    String rack,
    Double value,
    Double limit,
    String unit,
    String message,
    String advice) {

  /** One about a tracker, or about no tracker at all. */
  public AlarmCause(
      Alarm.Kind kind,
      Alarm.Severity severity,
      String tracker,
      Double value,
      Double limit,
      String unit,
      String message,
      String advice) {
    this(kind, severity, tracker, null, value, limit, unit, message, advice);
  }

  /** One about a rack as a whole. */
  public static AlarmCause ofRack(
      Alarm.Kind kind, Alarm.Severity severity, String rack, String message, String advice) {
    return new AlarmCause(kind, severity, null, rack, null, null, null, message, advice);
  }

  /** One that has no number. */
  public static AlarmCause plain(
      Alarm.Kind kind, Alarm.Severity severity, String tracker, String message, String advice) {
    return new AlarmCause(kind, severity, tracker, null, null, null, message, advice);
  }
}
