package soakbench.cli.running;

import java.util.Optional;
import soakbench.api.ApiServer;
import soakbench.api.alarms.AlarmLog;
import soakbench.api.alarms.AlarmPost;
import soakbench.ingest.Agent;
import soakbench.ingest.IngestAlarms;
import soakbench.live.DataClock;
import soakbench.live.EventClock;
import soakbench.live.alarm.AlarmBook;
import soakbench.live.alarm.TrackerAlarms;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

/** The service's alarms: who raises them, who tells them, and that their time passes. */
final class AlarmDesk implements AutoCloseable {
  private final DataClock dates;
  private final AlarmBook book;
  private final IngestAlarms reading;
  private final AlarmLog log = new AlarmLog();
  private final EventClock clock;
  private final LiveVerdicts live;
  private final TrackerAlarms trackers;
  private final AlarmPost post;
  private final EachApart apart = new EachApart();

  /**
   * @param post tells an address too; null for none
   */
  AlarmDesk(LiveVerdicts live, EventClock clock, AlarmPost post) {
    this.live = live;
    this.clock = clock;
    this.post = post;
    this.dates = new DataClock(clock);
    this.book = new AlarmBook(dates);
    this.reading = new IngestAlarms(book);
    this.trackers = new TrackerAlarms(book, clock);
    live.subscribe(dates);
    live.subscribe(trackers);
    book.subscribe(log);
    if (post != null) {
      book.subscribe(post);
    }
  }

  /**
   * From now on alarms are told by the roster's names, racks are known, and what was calibrated.
   */
  void ask(ApiServer api) {
    api.nameAlarmsOf(log, post);
    trackers.ask(api::rackOf, api.marks()::kept, live::hears);
  }

  /** Tells an address from now on; not closed with the desk. */
  void tellToo(AlarmPost later, ApiServer api) {
    api.nameAlarmsOf(log, later);
    book.subscribe(later);
  }

  AlarmBook book() {
    return book;
  }

  void databaseAway(String why) {
    book.report(
        AlarmCause.plain(
            Kind.DATABASE_AWAY,
            Severity.SEVERE,
            null,
            "The database is away, so nothing but heat and silence is judged: " + why + ".",
            "Look at the trackers, and bring the database back. Samples of a rack that is read here"
                + " wait in the spool."),
        clock.runningUs());
  }

  /** The database is there, for another service. */
  void writesNoMore(String other) {
    book.report(
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
  void judgingStandsStill() {
    book.report(
        AlarmCause.plain(
            Kind.DATABASE_AWAY,
            Severity.SEVERE,
            null,
            "Nothing is judged: one piece of work takes long.",
            "Nobody sees how hot the trackers are: look at them. If it does not end within a"
                + " minute, look into the service's log and start it again."),
        clock.runningUs());
  }

  void databaseThere() {
    book.gone(Kind.DATABASE_AWAY, null, clock.runningUs());
  }

  /**
   * Lets time pass, first for the verdicts that the alarms are raised from.
   *
   * @param agent who reads a rack; null where nobody does
   * @param notRead why nobody reads it though somebody should
   */
  void pass(Agent agent, Optional<String> notRead) {
    apart.run("heat and silence by what arrives", live::pass);
    apart.run("the clock of the data", () -> dates.look(live.readiness()));
    apart.run("silence", () -> trackers.soaking(live.readiness()));
    if (notRead.isPresent()) {
      apart.run("the rack's reading", () -> reading.notRead(notRead.get(), clock.runningUs()));
    } else if (agent != null) {
      apart.run("the rack's reading", () -> reading.check(agent, clock.runningUs()));
    }
    apart.run("the time of the alarms", () -> book.pass(clock.runningUs()));
  }

  @Override
  public void close() {
    if (post != null) {
      post.close();
    }
  }
}
