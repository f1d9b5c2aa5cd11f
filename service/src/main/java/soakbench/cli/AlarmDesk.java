package soakbench.cli;

import soakbench.api.AlarmLog;
import soakbench.api.AlarmPost;
import soakbench.ingest.Agent;
import soakbench.ingest.ReadingAlarms;
import soakbench.live.AlarmBook;
import soakbench.live.EventClock;
import soakbench.live.LiveVerdicts;
import soakbench.live.TrackerAlarms;
import soakbench.model.Alarm.Kind;
import soakbench.model.Alarm.Severity;
import soakbench.model.AlarmCause;

/** The service's alarms: who raises them, who tells them, and that their time passes. */
final class AlarmDesk implements AutoCloseable {
  private final AlarmBook book = new AlarmBook();
  private final ReadingAlarms reading = new ReadingAlarms(book);
  private final EventClock clock;
  private final LiveVerdicts live;
  private final TrackerAlarms trackers;
  private final AlarmPost post;

  /**
   * @param post tells an address too; null for none
   */
  AlarmDesk(LiveVerdicts live, EventClock clock, AlarmPost post) {
    this.live = live;
    this.clock = clock;
    this.post = post;
    this.trackers = new TrackerAlarms(book, clock);
    live.subscribe(trackers);
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

  void databaseThere() {
    book.gone(Kind.DATABASE_AWAY, null, clock.nowUs());
  }

  /**
   * Lets time pass.
   *
   * @param agent who reads a rack; null where nobody does
   */
  void pass(Agent agent) {
    trackers.soaking(live.readiness());
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
