package soakbench.ingest;

import java.util.Locale;
import java.util.Optional;
import soakbench.ingest.spool.Spool;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.alarm.Levels;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.About;
import soakbench.model.AlarmCause.Found;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

/**
 * Raises the alarms about ingest: the spool fills, or the rack is not read any more. With
 * hysteresis: a level is left only some way below where it was entered. Not thread-safe.
 */
public final class IngestAlarms {
  /** From here on the spool fills, as a share of what it may hold. */
  public static final double WARNING_PERCENT = 50;

  private static final double SEVERE_PERCENT = 90;
  private static final double BELOW_PERCENT = 5;

  private final AlarmRegistry registry;
  private final Levels levels = new Levels(WARNING_PERCENT, SEVERE_PERCENT, BELOW_PERCENT);

  public IngestAlarms(AlarmRegistry registry) {
    this.registry = registry;
  }

  /** Checks an agent. */
  public void check(Agent agent, long nowUs) {
    check(agent.spool(), agent.failure().or(agent::diskTrouble), nowUs);
  }

  /** Nobody reads the rack, for this reason; what its spool holds is not known. */
  public void notRead(String why, long nowUs) {
    levels.forget();
    registry.gone(Kind.SPOOL_FILLING, null, nowUs);
    registry.report(stopped(why), nowUs);
  }

  /**
   * The same.
   *
   * @param stopped why nothing is read any more; empty where it is
   */
  void check(Spool.Status spool, Optional<String> stopped, long nowUs) {
    filling(100.0 * spool.usedBytes() / spool.limitBytes(), spool.waiting(), nowUs);
    if (stopped.isPresent()) {
      registry.report(stopped(stopped.get()), nowUs);
    } else {
      registry.gone(Kind.READING_STOPPED, null, nowUs);
    }
  }

  private void filling(double percent, long waiting, long nowUs) {
    double limit = levels.take(percent);
    if (limit > 0) {
      registry.report(filling(percent, limit, waiting), nowUs);
    } else {
      registry.gone(Kind.SPOOL_FILLING, null, nowUs);
    }
  }

  private AlarmCause filling(double percent, double limit, long waiting) {
    return new AlarmCause(
        Kind.SPOOL_FILLING,
        levels.severity(),
        new About(null, null),
        new Found(percent, limit, "%"),
        String.format(
            Locale.ROOT,
            "The spool is %.0f %% full; %d samples wait to be stored.",
            percent,
            waiting),
        "Bring the database back, or give more room with --spool-mb; when it is full, reading"
            + " stops.");
  }

  private static AlarmCause stopped(String why) {
    return AlarmCause.plain(
        Kind.READING_STOPPED,
        Severity.SEVERE,
        null,
        "The rack is not read: " + why + ".",
        "Nobody sees how hot the trackers are: look at them, then mend what is named.");
  }
}
