package soakbench.api.alarms;

import java.util.List;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.http.Json;
import soakbench.api.http.Times;
import soakbench.api.http.TrackerNames;
import soakbench.live.alarm.AlarmListener;
import soakbench.model.Alarm;

/** Logs alarms, a line each. */
public final class AlarmLog implements AlarmListener {
  private static final Logger LOG = LoggerFactory.getLogger(AlarmLog.class);

  private volatile TrackerNames names = new TrackerNames(List::of);

  public void nameBy(TrackerNames roster) {
    names = roster;
  }

  @Override
  public void changed(Change change, Alarm a) {
    String what = what(a);
    switch (change) {
      case RAISED, WORSE ->
          LOG.warn("ALARM {} {}: {} {}", word(a), what, a.cause().message(), a.cause().advice());
      case REMINDED ->
          LOG.warn(
              "ALARM {} {} since {}, not acknowledged: {} {}",
              word(a),
              what,
              Times.text(a.sinceUs()),
              a.cause().message(),
              a.cause().advice());
      case ENDED -> LOG.info("alarm over: {}: {}", what, a.cause().message());
      case ACKNOWLEDGED ->
          LOG.info(
              "alarm acknowledged{}: {}: {}",
              a.seen().by() == null ? "" : " by " + a.seen().by(),
              what,
              a.cause().message());
    }
  }

  /** Readers of the log look for a name and a slot; the id begins the message already. */
  private String what(Alarm a) {
    String whom = AlarmTable.whom(a, names);
    return whom.isEmpty() || whom.equals(a.tracker())
        ? a.kind().word()
        : a.kind().word() + ", " + whom;
  }

  private static String word(Alarm alarm) {
    return Json.word(alarm.cause().severity());
  }
}
