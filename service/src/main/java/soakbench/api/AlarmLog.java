package soakbench.api;

import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.AlarmListener;
import soakbench.model.Alarm;

/** Tells the console of alarms, a line each. */
public final class AlarmLog implements AlarmListener {
  private static final Logger LOG = LoggerFactory.getLogger(AlarmLog.class);

  @Override
  public void changed(Change change, Alarm a) {
    String what = a.kind().word();
    switch (change) {
      case RAISED, WORSE -> LOG.warn("ALARM {} {}: {} {}", word(a), what, a.message(), a.advice());
      case REMINDED ->
          LOG.warn(
              "ALARM {} {} since {}, not acknowledged: {} {}",
              word(a),
              what,
              Times.text(a.sinceUs()),
              a.message(),
              a.advice());
      case ENDED -> LOG.info("alarm over: {} {}", what, a.message());
      case ACKNOWLEDGED ->
          LOG.info(
              "alarm acknowledged{}: {} {}",
              a.acknowledgedBy() == null ? "" : " by " + a.acknowledgedBy(),
              what,
              a.message());
    }
  }

  private static String word(Alarm alarm) {
    return Json.word(alarm.severity());
  }
}
