package soakbench.cli;

import soakbench.api.AlarmLog;
import soakbench.api.AlarmPost;
import soakbench.ingest.Agent;
import soakbench.ingest.ReadingAlarms;
import soakbench.live.AlarmBook;
import soakbench.live.EventClock;
import soakbench.live.SoakWatch;
import soakbench.live.TrackerAlarms;
import soakbench.model.Alarm.Kind;
import soakbench.model.Alarm.Severity;
import soakbench.model.AlarmCause;

/** The service's alarms: who raises them, who tells them, and that their time passes. */
final class AlarmDesk implements AutoCloseable {
  private final AlarmBook book = new AlarmBook();
  private final ReadingAlarms reading = new ReadingAlarms(book);
  private final EventClock clock;
  private final SoakWatch watch;
  private final TrackerAlarms trackers;
  private final AlarmPost post;

  /**
   * @param post tells an address too; null for none
   */
  AlarmDesk(SoakWatch watch, EventClock clock, AlarmPost post) {
    this.watch = watch;
    this.clock = clock;
    this.post = post;
    this.trackers = new TrackerAlarms(book, clock);
    watch.subscribe(trackers);
    book.subscribe(new AlarmLog());
    if (post != null) {
      book.subscribe(post);
    }
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
            "The database is away, so nothing is judged: " + why + ".",
            "Nobody sees how hot the trackers are: look at them, and bring the database back."
                + " Samples of a rack that is read here wait in the spool."),
        clock.nowUs());
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
        clock.nowUs());
  }

  void databaseThere() {
    book.gone(Kind.DATABASE_AWAY, null, clock.nowUs());
  }

  /**
   * Lets time pass.
   *
   * @param agent who reads a rack; null where nobody does
   */
  void pass(Agent agent) {
    trackers.soaking(watch.readiness());
    if (agent != null) {
      reading.look(agent, clock.nowUs());
    }
    book.pass(clock.nowUs());
  }

  @Override
  public void close() {
    if (post != null) {
      post.close();
    }
  }
}
