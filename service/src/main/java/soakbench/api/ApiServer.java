package soakbench.api;

import io.javalin.Javalin;
import io.javalin.config.JavalinConfig;
import io.javalin.util.JavalinException;
import java.net.URI;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.LongSupplier;
import java.util.stream.Collectors;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.NetworkConnectionLimit;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.access.AccessConnections;
import soakbench.api.access.AccessGuard;
import soakbench.api.access.AccessLimits;
import soakbench.api.access.AccessLoad;
import soakbench.api.access.AccessPairing;
import soakbench.api.access.AccessSettings;
import soakbench.api.access.AccessTls;
import soakbench.api.access.PairingCode;
import soakbench.api.alarms.AlarmCalls;
import soakbench.api.alarms.AlarmLog;
import soakbench.api.alarms.AlarmPost;
import soakbench.api.alarms.AlarmView;
import soakbench.api.calibrations.CalibrationCalls;
import soakbench.api.calibrations.CalibrationView;
import soakbench.api.events.EventCalls;
import soakbench.api.events.EventClient;
import soakbench.api.events.EventHub;
import soakbench.api.figures.FigureCalls;
import soakbench.api.figures.FigureTableCalls;
import soakbench.api.figures.MarkTemperature;
import soakbench.api.health.HealthCalls;
import soakbench.api.health.MetricsCalls;
import soakbench.api.health.PortCalls;
import soakbench.api.health.ReadingState;
import soakbench.api.health.Standing;
import soakbench.api.health.StandingGate;
import soakbench.api.http.CountedSink;
import soakbench.api.http.JettyErrors;
import soakbench.api.http.Json;
import soakbench.api.http.Problems;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerNames;
import soakbench.api.limits.LimitsCalls;
import soakbench.api.limits.PreviewCalls;
import soakbench.api.readiness.ReadinessCalls;
import soakbench.api.roster.TrackerCalls;
import soakbench.api.samples.BootClocks;
import soakbench.api.samples.HeardCalls;
import soakbench.api.samples.KnownTrackers;
import soakbench.api.samples.NewTrackers;
import soakbench.api.samples.SampleCalls;
import soakbench.api.samples.UploadDoor;
import soakbench.api.samples.UploadLimits;
import soakbench.api.samples.UploadTurns;
import soakbench.api.soaks.SoakCalls;
import soakbench.api.soaks.SoakDataCalls;
import soakbench.ingest.Agent;
import soakbench.ingest.source.OffsetSink;
import soakbench.live.DataClock;
import soakbench.live.EventClock;
import soakbench.live.Sink;
import soakbench.live.StoreException;
import soakbench.live.alarm.AlarmBook;
import soakbench.live.alarm.TrackerAlarms;
import soakbench.live.arrival.ArrivalWatch;
import soakbench.live.arrival.Arrivals;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.calibration.CalibrationKeeper;
import soakbench.live.calibration.NewestMarks;
import soakbench.live.figures.FigureKeeper;
import soakbench.live.figures.Keepers;
import soakbench.live.figures.SummaryKeeper;
import soakbench.live.watch.SoakWatch;
import soakbench.readiness.Calibration;
import soakbench.readiness.Readiness;
import soakbench.store.Database;
import soakbench.store.SoakQuery;

/** The service's face to browsers, programs and spreadsheets. */
public final class ApiServer implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(ApiServer.class);

  /** For {@link AccessLoad#MOST_IN_FLIGHT} requests, a hundred streams, and {@code /health}. */
  private static final int THREADS = 300;

  private static final int MOST_CONNECTIONS = 1_000;
  private static final int HEADER_BYTES = 16 * 1024;
  private static final long SLOWEST_UPLOAD_BYTES_PER_S = 50;
  private static final long LARGEST_DOCUMENT_BYTES = 4L << 20;
  private static final long STOP_WITHIN_MS = 4_000;

  private final Javalin javalin;
  private final ApiSettings settings;
  private final AccessPairing pairing;
  private final Sink intake;
  private final ReadingState reading;
  private final Keepers keepers;
  private final TrackerNames names;
  private final NewestMarks marks;
  private final KnownTrackers known;
  private final Standing standing;

  private ApiServer(
      Javalin javalin,
      ApiSettings settings,
      AccessPairing pairing,
      Sink intake,
      ReadingState reading,
      Keepers keepers,
      TrackerNames names,
      NewestMarks marks,
      KnownTrackers known,
      Standing standing) {
    this.known = known;
    this.standing = standing;
    this.javalin = javalin;
    this.settings = settings;
    this.pairing = pairing;
    this.intake = intake;
    this.reading = reading;
    this.keepers = keepers;
    this.names = names;
    this.marks = marks;
  }

  /** Starts to answer, with alarms about trackers only and nobody who lets their time pass. */
  public static ApiServer start(
      ApiSettings settings, SoakWatch watch, Database database, EventClock clock) {
    DataClock dates = new DataClock(clock);
    AlarmBook alarms = new AlarmBook(dates);
    LiveVerdicts live = new LiveVerdicts(watch, new ArrivalWatch(watch::limits, clock), clock);
    live.subscribe(dates);
    live.subscribe(new TrackerAlarms(alarms, clock));
    return start(settings, watch, live, live.arrivals(), database, clock, alarms, Standing.ready());
  }

  /**
   * Starts to answer.
   *
   * @param live the verdicts that are shown
   * @param arrivals hears each posted line of a tracker, whether it can be stored or not
   * @param clock what time it is in samples; dates uploads that carry none
   * @param alarms all that there are
   * @param standing how far the service is; until it is at work calls say so
   * @throws ApiStartException if the port is taken or may not be used, or there is no such host
   */
  public static ApiServer start(
      ApiSettings settings,
      SoakWatch watch,
      LiveVerdicts live,
      Arrivals arrivals,
      Database database,
      EventClock clock,
      AlarmBook alarms,
      Standing standing) {
    TrackerNames names = new TrackerNames(() -> database.roster().all());
    database.roster().onChange(names::forget);
    watch.askAboutRates(names::ratesOf);
    live.arrivals().askAboutOffsets(names::lastKnownOffsetCOf);
    NewestMarks marks = new NewestMarks(() -> database.calibrationMarks().newest(true), clock);
    KnownTrackers known = new KnownTrackers(() -> database.recordings().trackers());
    if (standing.isAnswering()) {
      read(names, known, marks);
    }
    EventHub hub = new EventHub(names, marks, () -> shown(live), () -> alarmEvent(alarms, names));
    alarms.subscribe((change, alarm) -> hub.alarmsChanged());
    live.subscribe(hub);
    Keepers keepers = keepers(database, watch, clock);
    keepers.calibrations().subscribe(changed -> tell(hub, marks, names, changed));
    ReadingState reading = new ReadingState();
    AccessPairing pairing = new AccessPairing(settings.access());
    CountedSink intake = new CountedSink(new OffsetSink(watch, names::temperatureOffsetCOf));
    database.roster().onChange(known::readAgain);
    UploadDoor door = door(settings.uploads(), intake, arrivals, known, names, clock);
    MetricsCalls metrics =
        new MetricsCalls(reading).watching(live).alarms(alarms).database(database).intake(intake);
    Javalin javalin =
        Javalin.create(
            config -> {
              configure(config, settings, pairing);
              config.routes.before(new StandingGate(standing)::check);
              config.events.serverStopping(hub::close);
              config.events.serverStopped(known::close);
              config.routes.after(metrics::count);
              Routes routes = new Routes(config.routes);
              new HealthCalls(database, live, reading::trouble, keepers::state, standing)
                  .addTo(routes);
              new PortCalls(reading).addTo(routes);
              addCalls(routes, watch, live, database, names, marks);
              new AlarmCalls(alarms, names, clock).addTo(routes);
              new CalibrationCalls(database, keepers.calibrations(), names).addTo(routes);
              new FigureTableCalls(database, keepers.figures().deriving(), names).addTo(routes);
              metrics.addTo(routes);
              new SampleCalls(door, settings.largestUploadBytes(), standing).addTo(routes);
              new HeardCalls(door).addTo(routes);
              new EventCalls(
                      hub,
                      live,
                      settings.mostEventClients(),
                      settings.access().limits().eventStreams(),
                      settings.heartbeat())
                  .addTo(routes);
              pairing.addTo(routes);
              routes.addOptions();
            });
    try {
      javalin.start();
    } catch (JavalinException e) {
      hub.close();
      known.close();
      throw ApiStartException.of(settings, e);
    }
    return new ApiServer(
        javalin, settings, pairing, intake, reading, keepers, names, marks, known, standing);
  }

  /**
   * Reads what calls and alarms need in memory: which trackers are known, how they are named, what
   * was calibrated. To be called before the first call is answered and the first alarm told: whom
   * nobody knows yet is refused for good, and what was calibrated and taken off is told as silent.
   *
   * @throws StoreException if the store does not answer; to be tried again
   */
  public void storeIsOpen() {
    read(names, known, marks);
  }

  private static void read(TrackerNames names, KnownTrackers known, NewestMarks marks) {
    names.readFirst();
    known.read();
    marks.read();
  }

  private static void tell(
      EventHub hub, NewestMarks marks, TrackerNames names, List<Calibration> changed) {
    marks.changed(changed);
    hub.tell("calibrations", calibrationEvent(changed, names));
    changed.stream().map(Calibration::tracker).distinct().forEach(hub::again);
  }

  private static UploadDoor door(
      UploadLimits limits,
      Sink intake,
      Arrivals arrivals,
      KnownTrackers known,
      TrackerNames names,
      EventClock clock) {
    LongSupplier dateMs = System::currentTimeMillis;
    return new UploadDoor(
        new UploadTurns(intake),
        arrivals,
        new NewTrackers(limits, known, names::lists, dateMs),
        new BootClocks(),
        clock,
        dateMs,
        limits.ahead());
  }

  private static Keepers keepers(Database database, SoakWatch watch, EventClock clock) {
    return new Keepers(
        new CalibrationKeeper(database.calibrations(), database.said(), clock),
        new FigureKeeper(database.figures(), clock),
        new SummaryKeeper(database.summaries(), watch::learn, clock));
  }

  private static Map<String, List<CalibrationView>> calibrationEvent(
      List<Calibration> marks, TrackerNames names) {
    return Map.of(
        "calibrations",
        marks.stream().map(c -> CalibrationView.of(c, names.of(c.tracker()))).toList());
  }

  private static byte[] alarmEvent(AlarmBook alarms, TrackerNames names) {
    return EventClient.event(
        "alarms", Json.write(Map.of("alarms", AlarmView.shown(alarms, names))));
  }

  private static Set<String> shown(LiveVerdicts live) {
    return live.readiness().stream().map(Readiness::tracker).collect(Collectors.toSet());
  }

  private static void addCalls(
      Routes routes,
      SoakWatch watch,
      LiveVerdicts live,
      Database database,
      TrackerNames names,
      NewestMarks marks) {
    new OpenApiCalls().addTo(routes);
    new TrackerCalls(database.roster()).addTo(routes);
    new ReadinessCalls(live, names, marks, id -> known(database, id)).addTo(routes);
    new SoakCalls(database.recordings(), watch, names).addTo(routes);
    new SoakDataCalls(database.recordings()).addTo(routes);
    new FigureCalls(database.recordings(), watch, new MarkTemperature(database.calibrationMarks()))
        .addTo(routes);
    new LimitsCalls(watch, database.recordings()).addTo(routes);
    new PreviewCalls(database.recordings(), watch, names).addTo(routes);
  }

  private static boolean known(Database database, String id) {
    SoakQuery any = new SoakQuery(id, null, null, null, null, null, 1);
    return database.roster().find(id).isPresent() || !database.recordings().soaks(any).isEmpty();
  }

  /** All of the server but its calls. */
  public static void configure(JavalinConfig config, ApiSettings settings, AccessPairing pairing) {
    config.startup.showJavalinBanner = false;
    config.startup.showOldJavalinVersionWarning = false;
    config.http.prefer405over404 = true;
    config.http.maxRequestSize = LARGEST_DOCUMENT_BYTES;
    config.jetty.threadPool = new QueuedThreadPool(THREADS, 8);
    config.jetty.modifyServer(server -> harden(server, settings.access().limits()));
    config.jetty.modifyHttpConfiguration(ApiServer::bound);
    config.jetty.modifyServletContextHandler(context -> context.setErrorHandler(new JettyErrors()));
    config.jetty.addConnector((server, http) -> connector(server, http, settings));
    config.router.javaLangErrorHandler(Problems::answerError);
    config.routes.before(PageCalls::secure);
    AccessGuard guard = new AccessGuard(settings.host(), settings.access(), pairing);
    config.routes.before(guard::check);
    config.routes.exception(StandingGate.StartingException.class, StandingGate::toPage);
    config.routes.exception(AccessGuard.PairFirstException.class, AccessGuard::toPairing);
    Problems.install(config.routes);
    PageCalls.addTo(config);
  }

  private static void harden(Server server, AccessLimits limits) {
    AccessLoad.guard(server, limits);
    server.addBean(new NetworkConnectionLimit(MOST_CONNECTIONS, server));
    server.setErrorHandler(new JettyErrors());
    server.setStopTimeout(STOP_WITHIN_MS);
  }

  private static void bound(HttpConfiguration http) {
    http.setRequestHeaderSize(HEADER_BYTES);
    http.setMinRequestDataRate(SLOWEST_UPLOAD_BYTES_PER_S);
    http.setSendServerVersion(false);
    // Otherwise a token in the wrong case is read as an earlier one of the same connection.
    http.setHeaderCacheCaseSensitive(true);
  }

  private static ServerConnector connector(
      Server server, HttpConfiguration http, ApiSettings settings) {
    AccessSettings access = settings.access();
    ServerConnector connector =
        access.keys() == null
            ? new ServerConnector(server, new HttpConnectionFactory(http))
            : AccessTls.connector(server, http, access.keys());
    connector.addBean(new AccessConnections(access.limits().connections()));
    connector.setHost(settings.host());
    connector.setPort(settings.port());
    connector.setIdleTimeout(settings.idle().toMillis());
    return connector;
  }

  /**
   * Where samples go in, from ports as from uploads: the roster's temperature offsets are added
   * there.
   */
  public Sink intake() {
    return intake;
  }

  /**
   * Who reads the rack: what keeps samples from coming in is told by {@code /health} and the board,
   * its ports by {@code /api/ports}.
   *
   * @param agent null where nobody reads any more
   */
  public void askAboutReading(Agent agent) {
    reading.ask(agent);
  }

  /**
   * Tells the same way that a rack is not read.
   *
   * @param why without a full stop; null where it is read
   */
  public void readingStopped(String why) {
    reading.stopped(why);
  }

  /** Keeps what is derived of soaks; to be told to derive what is due. */
  public Keepers keepers() {
    return keepers;
  }

  /** Keeps the calibrations. */
  public CalibrationKeeper calibrations() {
    return keepers.calibrations();
  }

  /** Tells of alarms by the names and slots of the roster from now on. */
  public void nameAlarmsOf(AlarmLog log, AlarmPost post) {
    log.nameBy(names);
    if (post != null) {
      post.nameBy(names);
    }
  }

  /** The rack of a tracker by the roster; empty where it has none. */
  public String rackOf(String tracker) {
    return names.rackOf(tracker);
  }

  /** The newest calibration of every tracker; to be told to look what is kept. */
  public NewestMarks marks() {
    return marks;
  }

  /** The port it listens on. */
  public int port() {
    return javalin.port();
  }

  /** A new code that lets in one phone or browser; empty where no token guards anything. */
  public Optional<PairingCode> newPairingCode() {
    return pairing.newCode(port());
  }

  /** Where a browser on this computer finds it. */
  public URI url() {
    String host = settings.host();
    boolean everywhere = host.equals("0.0.0.0") || host.equals("::");
    String name = everywhere ? "127.0.0.1" : host.contains(":") ? "[" + host + "]" : host;
    return URI.create(settings.access().scheme() + "://" + name + ":" + port() + "/");
  }

  /**
   * Stops taking requests, lets those in flight finish for some seconds, and ends the event
   * clients; an upload ends after the lines that it has handed on.
   */
  @Override
  public void close() {
    standing.stops();
    try {
      javalin.stop();
    } catch (JavalinException e) {
      LOG.warn("some requests took too long and were cut off; nobody was told that they were done");
    }
  }

  /** For tests: what is routed. */
  public Javalin javalin() {
    return javalin;
  }
}
