package soakbench.api;

import io.javalin.config.JavalinConfig;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.LongSupplier;
import java.util.stream.Collectors;
import soakbench.api.access.AccessPairing;
import soakbench.api.alarms.AlarmCalls;
import soakbench.api.alarms.AlarmTable;
import soakbench.api.calibrations.CalibrationCalls;
import soakbench.api.calibrations.CalibrationTable;
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
import soakbench.api.health.StandingGate;
import soakbench.api.http.CountedSink;
import soakbench.api.http.Json;
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
import soakbench.api.samples.UploadTurns;
import soakbench.api.soaks.SoakCalls;
import soakbench.api.soaks.SoakDataCalls;
import soakbench.ingest.source.OffsetSink;
import soakbench.live.StoreException;
import soakbench.live.calibration.CalibrationKeeper;
import soakbench.live.calibration.NewestCalibrations;
import soakbench.live.figures.FigureKeeper;
import soakbench.live.figures.Keepers;
import soakbench.live.figures.SummaryKeeper;
import soakbench.readiness.Calibration;
import soakbench.readiness.Readiness;
import soakbench.store.Database;
import soakbench.store.Recordings;
import soakbench.store.SoakQuery;

/** All calls, and what they share in memory. */
final class ApiCalls implements AutoCloseable {
  final TrackerNames names;
  final NewestCalibrations marks;
  final Keepers keepers;
  final CountedSink intake;
  final ReadingState reading = new ReadingState();
  private final ApiSettings settings;
  private final ApiParts parts;
  private final KnownTrackers known;
  private final EventHub hub;

  ApiCalls(ApiSettings settings, ApiParts parts) {
    this.settings = settings;
    this.parts = parts;
    Database database = parts.database();
    names = new TrackerNames(() -> database.roster().all());
    marks = new NewestCalibrations(() -> database.calibrationTable().newest(true), parts.clock());
    known = new KnownTrackers(() -> database.recordings().trackers());
    keepers =
        new Keepers(
            new CalibrationKeeper(database.calibrations(), database.said(), parts.clock()),
            new FigureKeeper(database.figures(), parts.clock()),
            new SummaryKeeper(database.summaries(), parts.watch()::learn, parts.clock()));
    intake = new CountedSink(new OffsetSink(parts.watch(), names::temperatureOffsetCOf));
    parts.watch().askAboutRates(names::ratesOf);
    parts.live().arrivals().askAboutOffsets(names::lastKnownOffsetCOf);
    if (parts.standing().isAnswering()) {
      readStore();
    }
    hub = new EventHub(names, marks, this::shown, this::alarmEvent);
    listen();
  }

  private void listen() {
    parts.database().roster().onChange(names::forget);
    parts.database().roster().onChange(known::readAgain);
    parts.alarms().subscribe((change, alarm) -> hub.alarmsChanged());
    parts.live().subscribe(hub);
    keepers.calibrations().subscribe(this::tell);
  }

  /**
   * Reads what calls and alarms need in memory.
   *
   * @throws StoreException if the store does not answer; to be tried again
   */
  void readStore() {
    names.readFirst();
    known.read();
    marks.read();
  }

  private void tell(List<Calibration> changed) {
    marks.changed(changed);
    hub.tell("calibrations", Map.of("calibrations", CalibrationTable.of(names::of).json(changed)));
    changed.stream().map(Calibration::tracker).distinct().forEach(hub::again);
  }

  private byte[] alarmEvent() {
    return EventClient.event(
        "alarms", Json.write(Map.of("alarms", AlarmTable.shown(parts.alarms(), names))));
  }

  private Set<String> shown() {
    return parts.live().readiness().stream().map(Readiness::tracker).collect(Collectors.toSet());
  }

  /** Adds the calls to a server, and has them end with it. */
  void addTo(JavalinConfig config, AccessPairing pairing) {
    config.routes.before(new StandingGate(parts.standing())::check);
    config.events.serverStopping(hub::close);
    config.events.serverStopped(known::close);
    MetricsCalls metrics =
        new MetricsCalls(reading)
            .watching(parts.live())
            .alarms(parts.alarms())
            .database(parts.database())
            .intake(intake);
    config.routes.after(metrics::count);
    Routes routes = new Routes(config.routes);
    addWatched(routes);
    addStored(routes, parts.database().recordings());
    addUploads(routes);
    metrics.addTo(routes);
    new OpenApiCalls().addTo(routes);
    PageCalls.addTo(routes);
    pairing.addTo(routes);
    routes.addOptions();
  }

  /** What is told of now. */
  private void addWatched(Routes routes) {
    new HealthCalls(
            parts.database(), parts.live(), reading::trouble, keepers::state, parts.standing())
        .addTo(routes);
    new PortCalls(reading).addTo(routes);
    new ReadinessCalls(parts.live(), names, marks, this::isKnown).addTo(routes);
    new AlarmCalls(parts.alarms(), names, parts.clock()).addTo(routes);
    new EventCalls(
            hub,
            parts.live(),
            settings.streams().most(),
            settings.access().limits().eventStreams(),
            settings.streams().heartbeat())
        .addTo(routes);
  }

  /** What is told of what is stored, and changed of it. */
  private void addStored(Routes routes, Recordings recordings) {
    Database database = parts.database();
    MarkTemperature marked = new MarkTemperature(database.calibrationTable());
    new TrackerCalls(database.roster()).addTo(routes);
    new SoakCalls(recordings, parts.watch(), names).addTo(routes);
    new SoakDataCalls(recordings).addTo(routes);
    new FigureCalls(recordings, parts.watch(), marked).addTo(routes);
    new LimitsCalls(parts.watch(), recordings).addTo(routes);
    new PreviewCalls(recordings, parts.watch(), names).addTo(routes);
    new CalibrationCalls(database, keepers.calibrations(), names).addTo(routes);
    new FigureTableCalls(database, keepers.figures().deriving(), names).addTo(routes);
  }

  private void addUploads(Routes routes) {
    LongSupplier dateMs = System::currentTimeMillis;
    UploadDoor door =
        new UploadDoor(
            new UploadTurns(intake),
            parts.arrivals(),
            new NewTrackers(settings.uploads(), known, names::lists, dateMs),
            new BootClocks(),
            parts.clock(),
            dateMs,
            settings.uploads().ahead());
    new SampleCalls(door, settings.uploads().largestBytes(), parts.standing()).addTo(routes);
    new HeardCalls(door).addTo(routes);
  }

  private boolean isKnown(String id) {
    Database database = parts.database();
    SoakQuery any = new SoakQuery(id, null, null, null, null, null, 1);
    return database.roster().find(id).isPresent() || !database.recordings().soaks(any).isEmpty();
  }

  /** For a server that never started. */
  @Override
  public void close() {
    hub.close();
    known.close();
  }
}
