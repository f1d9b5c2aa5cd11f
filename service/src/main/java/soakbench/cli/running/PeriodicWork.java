package soakbench.cli.running;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Executor;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.SynchronousQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.health.ServiceStatus;
import soakbench.host.Daemons;
import soakbench.host.Deadline;
import soakbench.live.EventClock;
import soakbench.live.StoreException;
import soakbench.store.Database;
import soakbench.store.connection.DatabaseHealth;
import soakbench.store.connection.Lease;
import soakbench.store.retention.SampleRetention;

/**
 * The service's periodic work, each kind on a thread of its own: what waits for the database blocks
 * neither the alarms nor the watchdog.
 */
final class PeriodicWork implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(PeriodicWork.class);
  private static final long TICK_MS = 500;
  private static final long FIGURES_MS = 2_000;
  private static final long READING_MS = 1_000;
  private static final long WRITER_MS = 500;
  private static final long ROOM_MS = TimeUnit.MINUTES.toMillis(1);
  private static final long OLD_SAMPLES_MS = TimeUnit.HOURS.toMillis(1);
  private static final long STOP_MS = 2_000;

  /** After so long without a verdict the watchdog reports it; by ten seconds it is reported. */
  private static final long STUCK_NS = TimeUnit.SECONDS.toNanos(7);

  private static final long LONG_WORK_NS = TimeUnit.SECONDS.toNanos(30);

  private final ScheduledExecutorService storing = ticker("tick");
  private final ScheduledExecutorService alarming = ticker("alarms");
  private final ScheduledExecutorService watching = ticker("watchdog");
  private final ScheduledExecutorService figuring = ticker("figures");
  private final ScheduledExecutorService reading = ticker("reading");
  private final ScheduledExecutorService standingBy = ticker("standby");
  private final ScheduledExecutorService roomWatching = ticker("room");
  private final ScheduledExecutorService removing = ticker("old-samples");
  private final ThreadPoolExecutor rederiving = oneAtATime("deriving");
  private final Database database;
  private final AlarmService alarms;
  private final ServiceStatus status;
  private final EventClock clock;
  private volatile long progressNs;
  private volatile long progressUs;
  private volatile String away;
  private volatile Runnable step;
  private ScheduledFuture<?> soonest;

  PeriodicWork(Database database, AlarmService alarms, ServiceStatus status, EventClock clock) {
    this.database = database;
    this.alarms = alarms;
    this.status = status;
    this.clock = clock;
  }

  private static ScheduledExecutorService ticker(String name) {
    return Executors.newSingleThreadScheduledExecutor(Daemons.named(name));
  }

  /** One thread; what is submitted while it is busy is dropped, since it is submitted again. */
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
   * @param step closes bins and judges; throws {@link StoreException} where the store is away
   * @param pass what must go on whether or not the store answers
   */
  void start(Runnable step, Runnable pass) {
    this.step = step;
    progressed();
    every(storing, TICK_MS, () -> advance(step));
    every(alarming, TICK_MS, pass);
    every(watching, TICK_MS, this::checkProgress);
  }

  /** Takes the next step within so long, without waiting for the tick. */
  synchronized void stepWithin(long ms) {
    boolean due = soonest != null && soonest.getDelay(TimeUnit.MILLISECONDS) <= ms;
    if (step != null && !due && !storing.isShutdown()) {
      soonest = storing.schedule(this::stepNow, ms, TimeUnit.MILLISECONDS);
    }
  }

  private void stepNow() {
    synchronized (this) {
      soonest = null;
    }
    safely(() -> advance(step));
  }

  /** Starts what is derived apart from the verdicts. */
  void startDeriving(Runnable derive) {
    every(figuring, FIGURES_MS, () -> ifThere("figures", derive));
  }

  /** Starts looking whether the writer that this one stands by for is still there. */
  void startLookingForWriter() {
    every(standingBy, WRITER_MS, () -> ifThere("taking over", database::lookForWriter));
  }

  /** Starts checking whether the rack is to be read; that may take long. */
  void startReading(Runnable look) {
    every(reading, READING_MS, look);
  }

  /**
   * Starts watching the database's room, and removing samples that are older than they are kept.
   *
   * @param alone runs what must not meet the writing of samples
   */
  void startKeeping(SampleRetention.Alone alone) {
    roomWatching.execute(() -> safely(() -> ifThere("its room", this::lookAtRoom)));
    every(roomWatching, ROOM_MS, () -> ifThere("its room", this::lookAtRoom));
    removing.scheduleWithFixedDelay(
        () -> safely(() -> ifThere("old samples", () -> removeOld(alone))),
        ROOM_MS,
        OLD_SAMPLES_MS,
        TimeUnit.MILLISECONDS);
  }

  private void lookAtRoom() {
    alarms.room(database.room().look(System.nanoTime()), database.room().limits());
  }

  private void removeOld(SampleRetention.Alone alone) {
    database.retention().pass(Instant.now(), alone);
  }

  private static void every(ScheduledExecutorService ticker, long ms, Runnable work) {
    ticker.scheduleWithFixedDelay(() -> safely(work), ms, ms, TimeUnit.MILLISECONDS);
  }

  private static void safely(Runnable work) {
    try {
      work.run();
    } catch (RuntimeException | Error e) {
      // An exception would cancel all later runs.
      LOG.error("a mistake of the program while time passed", e);
    }
  }

  private void advance(Runnable step) {
    try {
      step.run();
      progressed();
      if (away != null) {
        away = null;
        LOG.info("the database is back");
      }
    } catch (StoreException e) {
      // Logged once: the agent keeps what it read and retries, and /health reports it all the time.
      if (away == null) {
        LOG.warn("the database is away: {}", e.getMessage());
      }
      away = e.getMessage();
    }
  }

  private void progressed() {
    progressUs = clock.nowUs();
    progressNs = System.nanoTime();
  }

  /** The watchdog: reports since when nothing is judged, and why. */
  private void checkProgress() {
    long quietNs = System.nanoTime() - progressNs;
    String why = away;
    if (why == null && quietNs > STUCK_NS) {
      DatabaseHealth health = database.health();
      if (health.ok()) {
        checkLongWork(quietNs);
        return;
      }
      why = health.message();
    }
    if (why == null) {
      status.trouble(null);
      alarms.databaseBack();
    } else {
      status.trouble(new ServiceStatus.Trouble("Nothing is judged: " + why, progressUs));
      reportAway(why);
    }
  }

  private void reportAway(String why) {
    Optional<Lease> other = database.supersededBy();
    if (other.isPresent()) {
      alarms.superseded(other.get().words());
    } else {
      alarms.databaseAway(why);
    }
  }

  /**
   * The database answers, so this program takes long: reported at once, an alarm where it goes on.
   */
  private void checkLongWork(long quietNs) {
    String why = "one piece of work has been going on since then";
    status.trouble(new ServiceStatus.Trouble("Nothing is judged: " + why, progressUs));
    if (quietNs > LONG_WORK_NS) {
      alarms.judgingStalled();
    }
  }

  private static void ifThere(String what, Runnable work) {
    try {
      work.run();
    } catch (StoreException e) {
      // Logged by the tick already; what is due now is due when the database is back.
      LOG.debug("{} wait: {}", what, e.getMessage());
    }
  }

  @Override
  public void close() {
    // What is removed piece by piece goes on at the next start.
    removing.shutdownNow();
    List<ExecutorService> all =
        List.of(
            storing,
            alarming,
            watching,
            figuring,
            reading,
            standingBy,
            rederiving,
            roomWatching,
            removing);
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
