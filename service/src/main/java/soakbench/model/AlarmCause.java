package soakbench.model;

/**
 * Why there should be an alarm now; its parts are those of {@link Alarm}.
 *
 * @param tracker null where it is about none
 */
public record AlarmCause(
    Alarm.Kind kind,
    Alarm.Severity severity,
    String tracker,
    Double value,
    Double limit,
    String unit,
    String message,
    String advice) {

  /** One that has no number. */
  public static AlarmCause plain(
      Alarm.Kind kind, Alarm.Severity severity, String tracker, String message, String advice) {
    return new AlarmCause(kind, severity, tracker, null, null, null, message, advice);
  }
}
