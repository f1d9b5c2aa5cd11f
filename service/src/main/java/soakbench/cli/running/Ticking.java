package soakbench.cli.running;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.SynchronousQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.health.Standing;
import soakbench.host.Daemons;
import soakbench.host.Deadline;
import soakbench.live.EventClock;
import soakbench.live.StoreException;
import soakbench.store.Database;
import soakbench.store.connection.DatabaseHealth;
import soakbench.store.connection.Writer;

/**
 * Lets time pass, each kind of work on a thread of its own: what waits for the database holds
 * neither the alarms nor who finds out that it waits.
 */
final class Ticking implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Ticking.class);
  private static final long TICK_MS = 500;
  private static final long FIGURES_MS = 2_000;
  private static final long READING_MS = 1_000;
  private static final long STOP_MS = 2_000;

  /** For so long nothing may have been judged before it is said; what is said is said by ten. */
  private static final long STUCK_NS = TimeUnit.SECONDS.toNanos(7);

  private static final long LONG_WORK_NS = TimeUnit.SECONDS.toNanos(30);

  private final ScheduledExecutorService storing = ticker("tick");
  private final ScheduledExecutorService alarming = ticker("alarms");
  private final ScheduledExecutorService watching = ticker("watchdog");
  private final ScheduledExecutorService figuring = ticker("figures");
  private final ScheduledExecutorService reading = ticker("reading");
  private final ThreadPoolExecutor rederiving = oneAtATime("deriving");
  private final Database database;
  private final AlarmDesk alarms;
  private final Standing standing;
  private final EventClock clock;
  private volatile long movedNs;
  private volatile long movedUs;
  private volatile String away;

  Ticking(Database database, AlarmDesk alarms, Standing standing, EventClock clock) {
    this.database = database;
    this.alarms = alarms;
    this.standing = standing;
    this.clock = clock;
  }

  private static ScheduledExecutorService ticker(String name) {
    return Executors.newSingleThreadScheduledExecutor(Daemons.named(name));
  }

  /** One thread; what it is handed while it is busy is not kept, for it is handed again. */
  private static ThreadPoolExecutor oneAtATime(String name) {
    return new ThreadPoolExecutor(
        1,
        1,
        0,
        TimeUnit.SECONDS,
        new SynchronousQueue<>(),
        Daemons.named(name),
        new ThreadPoolExecutor.DiscardPolicy());
  }

  /** Where late samples are derived again, beside what is live. */
  Executor rederiving() {
    return rederiving;
  }

  /**
   * Starts.
   *
   * @param step judges what time brings; throws {@link StoreException} where the store is away
   * @param pass what must go on whatever the store does
   */
  void start(Runnable step, Runnable pass) {
    moved();
    every(storing, TICK_MS, () -> move(step));
    every(alarming, TICK_MS, pass);
    every(watching, TICK_MS, this::look);
  }

  /** Starts what is derived apart from the verdicts. */
  void startDeriving(Runnable derive) {
    every(figuring, FIGURES_MS, () -> derive(derive));
  }

  /** Starts looking whether the rack is to be read; that may take long. */
  void startReading(Runnable look) {
    every(reading, READING_MS, look);
  }

  private static void every(ScheduledExecutorService ticker, long ms, Runnable work) {
    ticker.scheduleWithFixedDelay(() -> safely(work), ms, ms, TimeUnit.MILLISECONDS);
  }

  private static void safely(Runnable work) {
    try {
      work.run();
    } catch (RuntimeException | Error e) {
      // What ends here must not end the rounds after it.
      LOG.error("a mistake of the program while time passed", e);
    }
  }

  private void move(Runnable step) {
    try {
      step.run();
      moved();
      if (away != null) {
        away = null;
        LOG.info("the database is back");
      }
    } catch (StoreException e) {
      // Said once: the agent keeps what it read and tries again, and /health tells it all the time.
      if (away == null) {
        LOG.warn("the database is away: {}", e.getMessage());
      }
      away = e.getMessage();
    }
  }

  private void moved() {
    movedUs = clock.nowUs();
    movedNs = System.nanoTime();
  }

  /** Says since when nothing is judged, and why. */
  private void look() {
    long quietNs = System.nanoTime() - movedNs;
    String why = away;
    if (why == null && quietNs > STUCK_NS) {
      DatabaseHealth health = database.health();
      if (health.ok()) {
        lookAtLongWork(quietNs);
        return;
      }
      why = health.message();
    }
    if (why == null) {
      standing.trouble(null);
      alarms.databaseThere();
    } else {
      standing.trouble(new Standing.Trouble("Nothing is judged: " + why, movedUs));
      tellAway(why);
    }
  }

  private void tellAway(String why) {
    Optional<Writer> other = database.supersededBy();
    if (other.isPresent()) {
      alarms.writesNoMore(other.get().words());
    } else {
      alarms.databaseAway(why);
    }
  }

  /** The database answers, so it is we who take long: told at once, an alarm where it goes on. */
  private void lookAtLongWork(long quietNs) {
    String why = "one piece of work has been going on since then";
    standing.trouble(new Standing.Trouble("Nothing is judged: " + why, movedUs));
    if (quietNs > LONG_WORK_NS) {
      alarms.judgingStandsStill();
    }
  }

  private static void derive(Runnable derive) {
    try {
      derive.run();
    } catch (StoreException e) {
      // Said by the tick already; what is due now is due when the database is back.
      LOG.debug("figures wait: {}", e.getMessage());
    }
  }

  @Override
  public void close() {
    List<ExecutorService> all = List.of(storing, alarming, watching, figuring, reading, rederiving);
    all.forEach(ExecutorService::shutdown);
    Deadline deadline = Deadline.inMs(STOP_MS);
    try {
      for (ExecutorService each : all) {
        each.awaitTermination(deadline.leftMs(), TimeUnit.MILLISECONDS);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }
}
