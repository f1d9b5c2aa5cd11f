package soakbench.cli.running;

import java.net.URI;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.function.Consumer;
import java.util.function.Predicate;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.ApiDependencies;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.access.PairingCode;
import soakbench.api.alarms.AlarmWebhook;
import soakbench.api.health.ServiceStatus;
import soakbench.host.Daemons;
import soakbench.host.Deadline;
import soakbench.host.ProgramDigest;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.Spool;
import soakbench.live.EventClock;
import soakbench.live.StoreException;
import soakbench.live.arrival.ArrivalWatch;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.RackSet;
import soakbench.store.Database;
import soakbench.store.connection.Announcements.News;
import soakbench.store.connection.Retries;
import soakbench.store.server.DatabaseSettings;

/**
 * The running service: HTTP, database, watch, and the agent where there is a rack. HTTP comes
 * first, so that clients see what the service is doing; at the end what was read is stored and open
 * requests are answered before the database is closed.
 */
public final class Service implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Service.class);
  private static final long PORTS_OPEN_WITHIN_MS = 2_000;
  private static final long START_ENDS_WITHIN_MS = 25_000;
  private static final long STANDBY_POLL_MS = 500;
  private static final long HEARS_WITHIN_MS = 3_000;

  /** Seconds of others are looked at some at a time; what was judged again or told, at once. */
  private static final long SECONDS_WITHIN_MS = 100;

  private static final long AT_ONCE_MS = 5;

  private final Database database;
  private final SoakWatch watch;
  private final LiveVerdicts live;
  private final EventClock clock;
  private final ApiServer api;
  private final AlarmService alarms;
  private final AlarmWebhook postLater;
  private final ServiceStatus status;
  private final Role role;
  private final PeriodicWork periodic;
  private final AtomicBoolean closing = new AtomicBoolean();
  private final AtomicBoolean ticks = new AtomicBoolean();
  private final CountDownLatch closed = new CountDownLatch(1);
  private final AgentSupervisor supervisor;
  private final NewsOfOthers news = new NewsOfOthers();
  private volatile boolean writing;
  private volatile Thread starter;

  private Service(
      Database database,
      SoakWatch watch,
      LiveVerdicts live,
      ApiServer api,
      AlarmService alarms,
      AlarmWebhook postLater,
      ServiceStatus status,
      Role role,
      EventClock clock) {
    this.database = database;
    this.watch = watch;
    this.live = live;
    this.clock = clock;
    this.api = api;
    this.alarms = alarms;
    this.postLater = postLater;
    this.status = status;
    this.role = role;
    this.periodic = new PeriodicWork(database, alarms, status, clock);
    this.supervisor = new AgentSupervisor(database, api, live);
    database.announcements().subscribe(this::heard);
  }

  /** Another service has written. */
  private void heard(News what) {
    news.heard(what);
    boolean seconds = !what.told() && what.trackers() != null && what.trackers().isEmpty();
    // Who writes looks for what people tell alone: others' seconds come many times a second.
    if (!writing) {
      periodic.stepWithin(seconds ? SECONDS_WITHIN_MS : AT_ONCE_MS);
    } else if (what.told()) {
      periodic.stepWithin(SECONDS_WITHIN_MS);
    }
  }

  /** The same without a webhook for alarms. */
  public static Service start(
      DatabaseSettings databaseSettings, ApiSettings apiSettings, Limits limits, EventClock clock) {
    return start(databaseSettings, apiSettings, limits, clock, null);
  }

  /**
   * A service that is ready when this returns.
   *
   * @param limits those given; null to go on with those that the store knows
   * @param post posts alarms; closed with the service; null for none
   */
  public static Service start(
      DatabaseSettings databaseSettings,
      ApiSettings apiSettings,
      Limits limits,
      EventClock clock,
      AlarmWebhook post) {
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
   * @param post posts alarms, as soon as this one writes; null for none
   */
  public static Service opened(
      DatabaseSettings databaseSettings,
      ApiSettings apiSettings,
      Limits limits,
      EventClock clock,
      AlarmWebhook post,
      Role role) {
    return opened(databaseSettings, apiSettings, limits, clock, post, role, RackSet.ALL);
  }

  /**
   * The same.
   *
   * @param racks those to write for
   */
  public static Service opened(
      DatabaseSettings databaseSettings,
      ApiSettings apiSettings,
      Limits limits,
      EventClock clock,
      AlarmWebhook post,
      Role role,
      RackSet racks) {
    Database database = Database.prepared(databaseSettings, racks);
    SoakWatch watch = new SoakWatch(database.soakStore(), limits, clock);
    watch.writesFor(racks);
    watch.keepJudges(ProgramDigest.running());
    ArrivalWatch arrivals = new ArrivalWatch(watch::limits, clock);
    watch.useLiveness(arrivals);
    LiveVerdicts live = new LiveVerdicts(watch, arrivals, clock);
    boolean atOnce = role == Role.WRITES;
    AlarmService alarms = new AlarmService(live, clock, atOnce ? post : null);
    ServiceStatus status = ServiceStatus.starting();
    ApiServer api =
        ApiServer.start(
            apiSettings,
            new ApiDependencies(watch, live, arrivals, database, clock, alarms.registry(), status));
    alarms.useRoster(api);
    AlarmWebhook later = atOnce ? null : post;
    return new Service(database, watch, live, api, alarms, later, status, role, clock);
  }

  /**
   * Opens the database and restores the state from the store; returns when the service is ready.
   *
   * @param step receives what is being done, in a few words
   * @param whenWriting called as soon as calls are answered, if and when this one writes
   * @throws StoreException if it can't be done, or it is asked to stop meanwhile
   */
  public void begin(Consumer<String> step, Runnable whenWriting) {
    Consumer<String> progress =
        words -> {
          status.doing(words);
          step.accept(words);
        };
    try {
      beginStart();
      if (role == Role.WRITES) {
        database.openToWrite(progress);
        write(progress, whenWriting);
      } else if (role == Role.STANDS_BY && takesOverAtOnce(progress)) {
        write(progress, whenWriting);
      } else {
        read(progress, whenWriting);
      }
    } finally {
      starter = null;
    }
  }

  /** Either this sees that it is to stop, or {@link #close} sees this thread and waits for it. */
  private void beginStart() {
    starter = Thread.currentThread();
    if (closing.get()) {
      throw new StoreException("the service was told to stop", null, false);
    }
  }

  /** Where nobody writes there may be nothing to show yet: waits until that is sure. */
  private boolean takesOverAtOnce(Consumer<String> progress) {
    boolean taken = database.takeOverAbandoned(progress);
    if (!taken && database.isFree()) {
      progress.accept("looking for some seconds whether nobody else writes");
    }
    while (!taken && database.isFree()) {
      pause(new StoreException("the service was told to stop", null, false));
      taken = Retries.untilThere(() -> database.takeOverAbandoned(progress));
    }
    return taken;
  }

  private void write(Consumer<String> progress, Runnable whenWriting) {
    progress.accept("restoring soaks");
    Retries.untilThere(
        () -> {
          watch.restore((done, of) -> status.doing("restoring soaks " + done + " of " + of));
          return null;
        });
    Retries.untilThere(
        () -> {
          api.storeIsOpen();
          return null;
        });
    writing = true;
    status.writes(database.racks());
    status.answers();
    if (postLater != null) {
      alarms.alsoPost(postLater, api);
    }
    watch.deriveWith(periodic.rederiving());
    startTicking(whenWriting);
    periodic.startDeriving(
        () -> {
          // First: deriving what is due may take long.
          api.marks().refresh();
          api.derivers().deriveOutdated();
          database.unitFigures().readFirst();
        });
    periodic.startKeeping(watch::alone);
    status.doing("opening ports");
    openRack(whenWriting);
    periodic.startReading(() -> supervisor.check(whenWriting));
    awaitPorts();
    status.done();
  }

  /** A rack that can't be opened fails the start; a service that took over tries again. */
  private void openRack(Runnable whenWriting) {
    if (role == Role.WRITES) {
      whenWriting.run();
    } else {
      supervisor.open(whenWriting);
    }
  }

  /** Shows what another writes. */
  private void read(Consumer<String> progress, Runnable whenWriting) {
    while (true) {
      try {
        database.openToRead(progress);
        break;
      } catch (StoreException e) {
        if (role == Role.READS || !e.transientFault()) {
          throw e;
        }
        pause(e);
        if (Retries.untilThere(() -> database.takeOverAbandoned(progress))) {
          write(progress, whenWriting);
          return;
        }
      }
    }
    progress.accept("reading the soaks of the service that writes");
    database.announcements().awaitHearing(HEARS_WITHIN_MS);
    Retries.untilThere(
        () -> {
          follow();
          api.storeIsOpen();
          return null;
        });
    startTicking(whenWriting);
    if (role == Role.STANDS_BY) {
      periodic.startLookingForWriter();
    }
    status.done();
  }

  private static void pause(StoreException why) {
    try {
      TimeUnit.MILLISECONDS.sleep(STANDBY_POLL_MS);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw why;
    }
  }

  private void startTicking(Runnable whenWriting) {
    if (ticks.compareAndSet(false, true)) {
      periodic.start(() -> tick(whenWriting), this::checkArrivals);
    }
  }

  /** Never waits for the database. */
  private void checkArrivals() {
    alarms.pass(supervisor.agent(), supervisor.stopped());
  }

  private void tick(Runnable whenWriting) {
    boolean told = news.takeTold(System.nanoTime());
    if (told) {
      api.readTold();
    }
    if (writing) {
      watch.tick();
      return;
    }
    // Here and not beside it: what another one was told is shown within a second.
    api.marks().refresh();
    if (told) {
      news.toldIsRead(System.nanoTime());
    }
    if (news.isDue(System.nanoTime()) && (role != Role.STANDS_BY || !tookOver(whenWriting))) {
      follow();
    }
    if (!writing) {
      // What came meanwhile, or still has to wait, must not wait for the tick as well.
      news.waitNs(System.nanoTime())
          .ifPresent(ns -> periodic.stepWithin(TimeUnit.NANOSECONDS.toMillis(ns) + AT_ONCE_MS));
    }
  }

  private void follow() {
    Predicate<String> again = news.begin(System.nanoTime());
    try {
      status.readsOnly(database.writers());
      watch.follow(again);
    } catch (RuntimeException e) {
      news.failed();
      throw e;
    }
    news.ended(System.nanoTime());
  }

  private boolean tookOver(Runnable whenWriting) {
    try {
      beginStart();
      if (!database.takeOverAbandoned(LOG::info)) {
        return false;
      }
      LOG.info(
          "the service that wrote for {} is gone; this one writes from now on",
          database.racks().words());
      write(LOG::info, whenWriting);
      return true;
    } finally {
      starter = null;
    }
  }

  private void awaitPorts() {
    Deadline deadline = Deadline.inMs(PORTS_OPEN_WITHIN_MS);
    try {
      // One that is not there, or somebody else's, is shown by the board and must not hold up the
      // rest.
      while (!sources().stream().allMatch(SourceStatus::open) && !deadline.isOver()) {
        TimeUnit.MILLISECONDS.sleep(20);
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  /**
   * Starts reading a rack's ports.
   *
   * @param keeping spools samples until the database has them; closed with the service
   */
  public void read(RackFile file, Spool keeping) {
    supervisor.read(file, keeping);
  }

  /** The status of the rack's ports; empty without a rack. */
  public List<SourceStatus> sources() {
    Agent agent = supervisor.agent();
    return agent == null ? List.of() : agent.sources();
  }

  /** A new pairing code for one phone; empty where none is needed. */
  public Optional<PairingCode> newPairingCode() {
    return api.newPairingCode();
  }

  public URI url() {
    return api.url();
  }

  public Database database() {
    return database;
  }

  public SoakWatch watch() {
    return watch;
  }

  /** Ends it, also while it still starts; thread-safe. A second call waits for the first. */
  @Override
  public void close() {
    if (!closing.compareAndSet(false, true)) {
      // Interrupted or not: what still closes may be the database server.
      Daemons.await(closed);
      return;
    }
    try {
      status.stops();
      endStart();
      closeAll(supervisor, periodic, api, this::keepJudges, alarms, postLater, database);
    } finally {
      closed.countDown();
    }
  }

  /** So that the next start judges nothing again. */
  private void keepJudges() {
    if (!writing) {
      return;
    }
    try {
      watch.keepNow();
    } catch (StoreException away) {
      LOG.info("judges are not kept, so the next start takes longer: {}", away.getMessage());
    }
  }

  /** Whatever one of them throws, the others are closed, the database server in any case. */
  private static void closeAll(AutoCloseable... parts) {
    for (AutoCloseable part : parts) {
      try {
        if (part != null) {
          part.close();
        }
      } catch (Exception | Error e) {
        LOG.error("a mistake of the program while it stopped; the rest is closed all the same", e);
      }
    }
  }

  /** A start that is under way ends by itself when it is interrupted, and leaves no server. */
  private void endStart() {
    Thread starting = starter;
    Deadline deadline = Deadline.inMs(START_ENDS_WITHIN_MS);
    while (starting != null
        && starting != Thread.currentThread()
        && starter == starting
        && !deadline.isOver()) {
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
