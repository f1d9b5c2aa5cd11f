package soakbench.cli;

import java.net.URI;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.SynchronousQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.AlarmPost;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.PairingCode;
import soakbench.ingest.Agent;
import soakbench.ingest.Destination;
import soakbench.ingest.RackFile;
import soakbench.ingest.SourceStatus;
import soakbench.ingest.Spool;
import soakbench.live.ArrivalWatch;
import soakbench.live.EventClock;
import soakbench.live.Keepers;
import soakbench.live.LiveVerdicts;
import soakbench.live.SoakWatch;
import soakbench.live.StoreException;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.DatabaseSettings;

/**
 * The running service: database, watch, HTTP, and the agent where there is a rack. Parts are opened
 * in this order and closed in the opposite one, so that what was read is stored and what is asked
 * is answered.
 */
final class Service implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Service.class);
  private static final long TICK_MS = 500;
  private static final long FIGURES_MS = 2_000;

  private final Database database;
  private final SoakWatch watch;
  private final LiveVerdicts live;
  private final ApiServer api;
  private final AlarmDesk alarms;
  private final ScheduledExecutorService ticker =
      Executors.newSingleThreadScheduledExecutor(work -> daemon(work, "tick"));
  private final ScheduledExecutorService figuring =
      Executors.newSingleThreadScheduledExecutor(work -> daemon(work, "figures"));

  /** Heat and silence of what arrives: waits for no database. */
  private final ScheduledExecutorService watching =
      Executors.newSingleThreadScheduledExecutor(work -> daemon(work, "arrivals"));

  private final ThreadPoolExecutor deriving = oneAtATime("deriving");
  private Spool spool;
  private volatile Agent agent;
  private boolean databaseAway;

  private Service(
      Database database, SoakWatch watch, LiveVerdicts live, ApiServer api, AlarmDesk alarms) {
    this.database = database;
    this.watch = watch;
    this.live = live;
    this.api = api;
    this.alarms = alarms;
  }

  /** The same without an address that is told of alarms. */
  static Service start(
      DatabaseSettings databaseSettings, ApiSettings apiSettings, Limits limits, EventClock clock) {
    return start(databaseSettings, apiSettings, limits, clock, null);
  }

  /**
   * Opens the database, answers HTTP, and takes up where the store was left.
   *
   * @param limits those given; null to go on with those that the store knows
   * @param post tells an address of alarms; closed with the service; null for none
   */
  static Service start(
      DatabaseSettings databaseSettings,
      ApiSettings apiSettings,
      Limits limits,
      EventClock clock,
      AlarmPost post) {
    Database database = Database.open(databaseSettings);
    try {
      SoakWatch watch = new SoakWatch(database.soakStore(), limits, clock);
      ArrivalWatch arrivals = new ArrivalWatch(watch::limits, clock);
      LiveVerdicts live = new LiveVerdicts(watch, arrivals, clock);
      AlarmDesk alarms = new AlarmDesk(live, clock, post);
      ApiServer api =
          ApiServer.start(apiSettings, watch, live, arrivals, database, clock, alarms.book());
      alarms.ask(api);
      return takenUp(new Service(database, watch, live, api, alarms), clock);
    } catch (RuntimeException e) {
      database.close();
      throw e;
    }
  }

  private static Service takenUp(Service service, EventClock clock) {
    try {
      service.watch.restore();
    } catch (RuntimeException e) {
      service.api.close();
      throw e;
    }
    service.watch.deriveOn(service.deriving);
    service.watch.askAboutLiveness(service.live.arrivals());
    service.watching.scheduleWithFixedDelay(
        () -> watchArrivals(service.live, clock), TICK_MS, TICK_MS, TimeUnit.MILLISECONDS);
    service.ticker.scheduleWithFixedDelay(service::tick, TICK_MS, TICK_MS, TimeUnit.MILLISECONDS);
    Keepers keepers = service.api.keepers();
    service.figuring.scheduleWithFixedDelay(
        () -> keepFigures(keepers, service.api), FIGURES_MS, FIGURES_MS, TimeUnit.MILLISECONDS);
    return service;
  }

  /**
   * Starts reading a rack's ports.
   *
   * @param keeping keeps samples until the database has them; closed with the service
   */
  void read(RackFile rack, Spool keeping) {
    spool = keeping;
    agent =
        new Agent(
            rack,
            spool,
            Destination.of(api.intake()),
            reason -> LOG.error("reading has stopped: {}", reason),
            live.arrivals());
    api.askAboutReading(agent);
    agent.start();
  }

  /** How the rack's ports stand; empty without a rack. */
  List<SourceStatus> sources() {
    return agent == null ? List.of() : agent.sources();
  }

  /** A new code that lets in one phone; empty where everybody is let in. */
  Optional<PairingCode> newPairingCode() {
    return api.newPairingCode();
  }

  URI url() {
    return api.url();
  }

  Database database() {
    return database;
  }

  SoakWatch watch() {
    return watch;
  }

  private static void watchArrivals(LiveVerdicts live, EventClock clock) {
    try {
      live.pass(clock.nowUs());
    } catch (RuntimeException e) {
      LOG.error("a mistake of the program while arrivals were watched", e);
    }
  }

  private void tick() {
    try {
      letTimePass();
      alarms.pass(agent);
    } catch (RuntimeException e) {
      LOG.error("a mistake of the program while time passed", e);
    }
  }

  private void letTimePass() {
    try {
      watch.tick();
      alarms.databaseThere();
      if (databaseAway) {
        databaseAway = false;
        LOG.info("the database is back");
      }
    } catch (StoreException e) {
      // Said once: the agent keeps what it read and tries again, and /health tells it all the time.
      if (!databaseAway) {
        databaseAway = true;
        LOG.warn("the database is away: {}", e.getMessage());
      }
      alarms.databaseAway(e.getMessage());
    }
  }

  private static void keepFigures(Keepers keepers, ApiServer api) {
    try {
      keepers.deriveDue();
      api.marks().look();
    } catch (RuntimeException | Error e) {
      // What fails is told by the keepers; what ends here must not end the rounds after it.
      LOG.error("a mistake of the program while deriving figures", e);
    }
  }

  @Override
  public void close() {
    if (agent != null) {
      agent.close();
    }
    if (spool != null) {
      spool.close();
    }
    watching.shutdown();
    ticker.shutdown();
    figuring.shutdown();
    deriving.shutdown();
    try {
      ticker.awaitTermination(5, TimeUnit.SECONDS);
      figuring.awaitTermination(5, TimeUnit.SECONDS);
      deriving.awaitTermination(5, TimeUnit.SECONDS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    api.close();
    alarms.close();
    database.close();
  }

  /** One thread; what it is handed while it is busy is not kept, for it is handed again. */
  private static ThreadPoolExecutor oneAtATime(String name) {
    return new ThreadPoolExecutor(
        1,
        1,
        0,
        TimeUnit.SECONDS,
        new SynchronousQueue<>(),
        work -> daemon(work, name),
        new ThreadPoolExecutor.DiscardPolicy());
  }

  private static Thread daemon(Runnable work, String name) {
    Thread thread = new Thread(work, name);
    thread.setDaemon(true);
    return thread;
  }
}
