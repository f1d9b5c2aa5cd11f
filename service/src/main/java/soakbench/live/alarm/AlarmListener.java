package soakbench.live.alarm;

import soakbench.model.Alarm;

/** Receives changes of alarms, in order, on the thread that made them: must return at once. */
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
