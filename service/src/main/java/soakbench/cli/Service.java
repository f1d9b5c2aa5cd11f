package soakbench.cli;

import java.net.URI;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.AlarmPost;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.PairingCode;
import soakbench.api.Standing;
import soakbench.ingest.Agent;
import soakbench.ingest.Destination;
import soakbench.ingest.RackFile;
import soakbench.ingest.SourceStatus;
import soakbench.ingest.Spool;
import soakbench.live.ArrivalWatch;
import soakbench.live.EventClock;
import soakbench.live.LiveVerdicts;
import soakbench.live.SoakWatch;
import soakbench.live.StoreException;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.DatabaseSettings;
import soakbench.store.Retries;

/**
 * The running service: HTTP, database, watch, and the agent where there is a rack. HTTP comes
 * first, so that whoever asks hears what the service is doing; at the end what was read is stored
 * and what is asked is answered before the database goes.
 */
final class Service implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Service.class);
  private static final long PORTS_OPEN_WITHIN_MS = 2_000;
  private static final long START_ENDS_WITHIN_MS = 25_000;
  private static final long STANDBY_LOOKS_MS = 500;

  private final Database database;
  private final SoakWatch watch;
  private final LiveVerdicts live;
  private final EventClock clock;
  private final ApiServer api;
  private final AlarmDesk alarms;
  private final AlarmPost postLater;
  private final Standing standing;
  private final Role role;
  private final Ticking ticking;
  private final AtomicBoolean closing = new AtomicBoolean();
  private final AtomicBoolean ticks = new AtomicBoolean();
  private volatile boolean writing;
  private volatile Thread starter;
  private Spool spool;
  private volatile Agent agent;

  private Service(
      Database database,
      SoakWatch watch,
      LiveVerdicts live,
      ApiServer api,
      AlarmDesk alarms,
      AlarmPost postLater,
      Standing standing,
      Role role,
      EventClock clock) {
    this.database = database;
    this.watch = watch;
    this.live = live;
    this.clock = clock;
    this.api = api;
    this.alarms = alarms;
    this.postLater = postLater;
    this.standing = standing;
    this.role = role;
    this.ticking = new Ticking(database, alarms, standing, clock);
  }

  /** The same without an address that is told of alarms. */
  static Service start(
      DatabaseSettings databaseSettings, ApiSettings apiSettings, Limits limits, EventClock clock) {
    return start(databaseSettings, apiSettings, limits, clock, null);
  }

  /**
   * A service that is at work when this returns.
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
    Service service = opened(databaseSettings, apiSettings, limits, clock, post, Role.WRITES);
    try {
      service.begin(step -> {}, () -> {});
      return service;
    } catch (RuntimeException e) {
      service.close();
      throw e;
    }
  }

  /**
   * Listens, and answers that it is starting.
   *
   * @param limits those given; null to go on with those that the store knows
   * @param post tells an address of alarms, as soon as this one writes; null for none
   */
  static Service opened(
      DatabaseSettings databaseSettings,
      ApiSettings apiSettings,
      Limits limits,
      EventClock clock,
      AlarmPost post,
      Role role) {
    Database database = Database.prepared(databaseSettings);
    SoakWatch watch = new SoakWatch(database.soakStore(), limits, clock);
    ArrivalWatch arrivals = new ArrivalWatch(watch::limits, clock);
    watch.askAboutLiveness(arrivals);
    LiveVerdicts live = new LiveVerdicts(watch, arrivals, clock);
    boolean atOnce = role == Role.WRITES;
    AlarmDesk alarms = new AlarmDesk(live, clock, atOnce ? post : null);
    Standing standing = Standing.starting();
    ApiServer api =
        ApiServer.start(
            apiSettings, watch, live, arrivals, database, clock, alarms.book(), standing);
    alarms.ask(api);
    AlarmPost later = atOnce ? null : post;
    return new Service(database, watch, live, api, alarms, later, standing, role, clock);
  }

  /**
   * Opens the database and takes up where the store was left; returns when the service is at work.
   *
   * @param step hears what is being done, in a few words
   * @param whenWriting called as soon as calls are answered, if and when this one writes
   * @throws StoreException if it can't be done, or it is told to stop meanwhile
   */
  void begin(Consumer<String> step, Runnable whenWriting) {
    starter = Thread.currentThread();
    Consumer<String> told =
        words -> {
          standing.doing(words);
          step.accept(words);
        };
    try {
      if (role == Role.WRITES) {
        database.openToWrite(told);
        write(told, whenWriting);
      } else if (role == Role.STANDS_BY && database.takeOver(told)) {
        write(told, whenWriting);
      } else {
        read(told, whenWriting);
      }
    } finally {
      starter = null;
    }
  }

  private void write(Consumer<String> told, Runnable whenWriting) {
    told.accept("restoring soaks");
    Retries.untilThere(
        () -> {
          watch.restore((done, of) -> standing.doing("restoring soaks " + done + " of " + of));
          return null;
        });
    writing = true;
    standing.writes();
    standing.answers();
    if (postLater != null) {
      alarms.tellToo(postLater, api);
    }
    watch.deriveOn(ticking.rederiving());
    startTicking(whenWriting);
    ticking.startDeriving(
        () -> {
          api.keepers().deriveDue();
          api.marks().look();
        });
    standing.doing("opening ports");
    whenWriting.run();
    awaitPorts();
    standing.done();
  }

  /** Shows what another writes. */
  private void read(Consumer<String> told, Runnable whenWriting) {
    while (true) {
      try {
        database.openToRead(told);
        break;
      } catch (StoreException e) {
        if (role == Role.READS || !e.transientFault()) {
          throw e;
        }
        pause(e);
        if (database.takeOver(told)) {
          write(told, whenWriting);
          return;
        }
      }
    }
    standing.readsOnly(database::writer);
    told.accept("reading the soaks of the service that writes");
    Retries.untilThere(
        () -> {
          watch.follow();
          return null;
        });
    startTicking(whenWriting);
    ticking.startDeriving(() -> api.marks().look());
    standing.done();
  }

  private static void pause(StoreException why) {
    try {
      TimeUnit.MILLISECONDS.sleep(STANDBY_LOOKS_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw why;
    }
  }

  private void startTicking(Runnable whenWriting) {
    if (ticks.compareAndSet(false, true)) {
      ticking.start(() -> letTimePass(whenWriting), this::lookAtArrivals);
    }
  }

  /** Waits for no database. */
  private void lookAtArrivals() {
    alarms.pass(agent);
  }

  private void letTimePass(Runnable whenWriting) {
    if (writing) {
      watch.tick();
    } else if (role != Role.STANDS_BY || !tookOver(whenWriting)) {
      watch.follow();
    }
  }

  private boolean tookOver(Runnable whenWriting) {
    starter = Thread.currentThread();
    try {
      if (!database.takeOver(LOG::info)) {
        return false;
      }
      LOG.info("the service that wrote is gone; this one writes from now on");
      write(LOG::info, whenWriting);
      return true;
    } finally {
      starter = null;
    }
  }

  private void awaitPorts() {
    long untilNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(PORTS_OPEN_WITHIN_MS);
    try {
      // One that is not there, or somebody else's, is told by the board and must not hold the rest.
      while (!sources().stream().allMatch(SourceStatus::open) && System.nanoTime() < untilNs) {
        TimeUnit.MILLISECONDS.sleep(20);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
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

  /** Ends it, also while it still starts; from any thread. */
  @Override
  public void close() {
    if (!closing.compareAndSet(false, true)) {
      return;
    }
    standing.stops();
    endStart();
    if (agent != null) {
      agent.close();
    }
    if (spool != null) {
      spool.close();
    }
    ticking.close();
    api.close();
    alarms.close();
    if (postLater != null) {
      postLater.close();
    }
    database.close();
  }

  /** A start that is under way ends by itself when it is interrupted, and leaves no server. */
  private void endStart() {
    Thread starting = starter;
    long untilNs = System.nanoTime() + TimeUnit.MILLISECONDS.toNanos(START_ENDS_WITHIN_MS);
    while (starting != null
        && starting != Thread.currentThread()
        && starter == starting
        && System.nanoTime() < untilNs) {
      starting.interrupt();
      try {
        TimeUnit.MILLISECONDS.sleep(50);
      } catch (InterruptedException e) {
        Thread.currentThread().interrupt();
        return;
      }
    }
  }
}
