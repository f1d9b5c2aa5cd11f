package soakbench.cli.running;

import java.util.Optional;
import soakbench.api.ApiServer;
import soakbench.api.alarms.AlarmLog;
import soakbench.api.alarms.AlarmWebhook;
import soakbench.ingest.Agent;
import soakbench.ingest.IngestAlarms;
import soakbench.live.DataClock;
import soakbench.live.EventClock;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.alarm.TrackerAlarms;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;
import soakbench.store.room.Room;
import soakbench.store.room.RoomLimits;

/** The service's alarms: what raises them, where they are reported, and their periodic check. */
final class AlarmService implements AutoCloseable {
  private final AlarmRegistry registry;
  private final IngestAlarms ingest;
  private final RoomAlarm room;
  private final AlarmLog log = new AlarmLog();
  private final EventClock clock;
  private final LiveVerdicts live;
  private final TrackerAlarms trackers;
  private final AlarmWebhook post;
  private final IsolatedTasks isolated = new IsolatedTasks();

  /**
   * @param post posts them to an address too; null for none
   */
  AlarmService(LiveVerdicts live, EventClock clock, AlarmWebhook post) {
    this.live = live;
    this.clock = clock;
    this.post = post;
    DataClock dates = new DataClock(clock);
    this.registry = new AlarmRegistry(dates);
    this.ingest = new IngestAlarms(registry);
    this.room = new RoomAlarm(registry);
    this.trackers = new TrackerAlarms(registry, clock);
    live.follow(dates);
    live.subscribe(trackers);
    registry.subscribe(log);
    if (post != null) {
      registry.subscribe(post);
    }
  }

  /** From now on alarms use the roster: names, racks, and what was calibrated. */
  void useRoster(ApiServer api) {
    api.nameAlarmsOf(log, post);
    trackers.configure(api::rackOf, api.marks()::isDone, live::hears);
  }

  /** Posts to an address from now on; that is not closed with this. */
  void alsoPost(AlarmWebhook later, ApiServer api) {
    api.nameAlarmsOf(log, later);
    registry.subscribe(later);
  }

  AlarmRegistry registry() {
    return registry;
  }

  void databaseAway(String why) {
    registry.report(
        AlarmCause.plain(
            Kind.DATABASE_AWAY,
            Severity.SEVERE,
            null,
            "The database is away, so nothing but heat and silence is judged: " + why + ".",
            "Look at the trackers, and bring the database back. Samples of a rack that is read here"
                + " wait in the spool."),
        clock.runningUs());
  }

  /** The database answers, but another service has the right to write. */
  void superseded(String other) {
    registry.report(
        AlarmCause.plain(
            Kind.DATABASE_AWAY,
            Severity.SEVERE,
            null,
            "Another service holds the right to write: "
                + other
                + ". So nothing but heat and silence is judged here.",
            "Look at that service's board, and stop one of the two."),
        clock.runningUs());
  }

  /** The database answers, and still nothing has been judged for long. */
  void judgingStalled() {
    registry.report(
        AlarmCause.plain(
            Kind.DATABASE_AWAY,
            Severity.SEVERE,
            null,
            "Nothing is judged: one piece of work takes long.",
            "Nobody sees how hot the trackers are: look at them. If it does not end within a"
                + " minute, look into the service's log and start it again."),
        clock.runningUs());
  }

  /** The database's room, as it was found just now. */
  void room(Room found, RoomLimits limits) {
    room.check(found, limits, clock.runningUs());
  }

  void databaseBack() {
    registry.gone(Kind.DATABASE_AWAY, null, clock.runningUs());
  }

  /**
   * The periodic check, first of the verdicts that the alarms are raised from.
   *
   * @param agent the rack's agent; null where there is none
   * @param notRead why the rack is not read though it should be
   */
  void pass(Agent agent, Optional<String> notRead) {
    isolated.run("heat and silence by what arrives", live::pass);
    isolated.run("silence", () -> trackers.soaking(live.readiness()));
    if (notRead.isPresent()) {
      isolated.run("the rack's reading", () -> ingest.notRead(notRead.get(), clock.runningUs()));
    } else if (agent != null) {
      isolated.run("the rack's reading", () -> ingest.check(agent, clock.runningUs()));
    }
    isolated.run("the time of the alarms", () -> registry.pass(clock.runningUs()));
  }

  @Override
  public void close() {
    if (post != null) {
      post.close();
    }
  }
}
