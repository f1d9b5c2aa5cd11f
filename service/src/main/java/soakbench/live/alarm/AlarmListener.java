package soakbench.live.alarm;

import soakbench.model.Alarm;

/** Hears of alarms, on the thread on which they came to be, in order: must return at once. */
@FunctionalInterface
public interface AlarmListener {

  /** What became of an alarm. */
  enum Change {
    RAISED,
    /** It was a warning and is severe now; an acknowledgement no longer counts. */
    WORSE,
    ENDED,
    ACKNOWLEDGED,
    /** It is severe, still holds, and nobody has acknowledged it. */
    REMINDED
  }

  void changed(Change change, Alarm alarm);
}
