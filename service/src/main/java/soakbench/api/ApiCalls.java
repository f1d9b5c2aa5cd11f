package soakbench.api;

import io.javalin.config.JavalinConfig;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.LongSupplier;
import java.util.stream.Collectors;
import soakbench.api.access.AccessPairing;
import soakbench.api.access.OtherRacks;
import soakbench.api.access.RackGate;
import soakbench.api.alarms.AlarmCalls;
import soakbench.api.alarms.AlarmTable;
import soakbench.api.calibrations.CalibrationCalls;
import soakbench.api.calibrations.CalibrationTable;
import soakbench.api.events.EventCalls;
import soakbench.api.events.EventClient;
import soakbench.api.events.EventHub;
import soakbench.api.figures.MarkTemperature;
import soakbench.api.figures.SoakFigureCalls;
import soakbench.api.figures.TrackerFigureCalls;
import soakbench.api.health.HealthCalls;
import soakbench.api.health.IngestStatus;
import soakbench.api.health.MetricsCalls;
import soakbench.api.health.PortCalls;
import soakbench.api.health.ServiceGate;
import soakbench.api.http.CountingSink;
import soakbench.api.http.Json;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerNames;
import soakbench.api.imports.ImportCalls;
import soakbench.api.imports.ImportedFileCalls;
import soakbench.api.imports.MergeCalls;
import soakbench.api.limits.LimitsCalls;
import soakbench.api.limits.PreviewCalls;
import soakbench.api.lots.CurveCalls;
import soakbench.api.lots.LotCalls;
import soakbench.api.lots.LotSheet;
import soakbench.api.lots.ScreeningCalls;
import soakbench.api.readiness.ReadinessCalls;
import soakbench.api.readiness.ReadinessOrder;
import soakbench.api.roster.TrackerCalls;
import soakbench.api.samples.BootClocks;
import soakbench.api.samples.HeardCalls;
import soakbench.api.samples.KnownTrackers;
import soakbench.api.samples.NewTrackerQuota;
import soakbench.api.samples.RetentionCalls;
import soakbench.api.samples.SampleCalls;
import soakbench.api.samples.UploadContext;
import soakbench.api.samples.UploadScheduler;
import soakbench.api.sheet.CellCalls;
import soakbench.api.sheet.CellNames;
import soakbench.api.sheet.ReadinessSheet;
import soakbench.api.sheet.SheetCalls;
import soakbench.api.sheet.SheetTables;
import soakbench.api.sheet.SheetTrackers;
import soakbench.api.soaks.HistoryCalls;
import soakbench.api.soaks.SoakCalls;
import soakbench.api.soaks.SoakDataCalls;
import soakbench.ingest.source.OffsetSink;
import soakbench.live.SampleSink;
import soakbench.live.StoreException;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.calibration.NewestCalibrations;
import soakbench.live.figures.Derivers;
import soakbench.live.figures.FigureDeriver;
import soakbench.live.figures.SummaryDeriver;
import soakbench.live.watch.SoakWatch;
import soakbench.readiness.Calibration;
import soakbench.readiness.Readiness;
import soakbench.store.Database;
import soakbench.store.SoakArchive;
import soakbench.store.SoakQuery;

/** All HTTP calls, and what they share in memory. */
final class ApiCalls implements AutoCloseable {
  final TrackerNames names;
  final NewestCalibrations marks;
  final Derivers derivers;
  final CountingSink intake;
  final OtherRacks otherRacks;
  final IngestStatus ingest = new IngestStatus();
  private final ApiSettings settings;
  private final ApiDependencies dependencies;
  private final KnownTrackers knownTrackers;
  private final ReadinessOrder order;
  private final EventHub hub;

  ApiCalls(ApiSettings settings, ApiDependencies dependencies) {
    this.settings = settings;
    this.dependencies = dependencies;
    Database database = dependencies.database();
    names = new TrackerNames(() -> database.roster().all());
    marks =
        new NewestCalibrations(
            () -> database.calibrationTable().newest(true), dependencies.clock());
    knownTrackers = new KnownTrackers(() -> database.archive().trackers());
    otherRacks =
        new OtherRacks(
            dependencies.watch()::writesFor,
            names::rackOf,
            database::writerFor,
            database.racks(),
            database.roster()::place);
    derivers =
        new Derivers(
            new CalibrationDeriver(
                database.calibrations(), database.calibrationReports(), dependencies.clock()),
            new FigureDeriver(database.figures(), dependencies.clock()),
            new SummaryDeriver(
                database.summaries(), dependencies.watch()::relearn, dependencies.clock()));
    intake = new CountingSink(new OffsetSink(dependencies.watch(), names::temperatureOffsetCOf));
    dependencies.watch().useRates(names::ratesOf);
    dependencies.live().arrivals().useOffsets(names::lastKnownOffsetCOf);
    if (dependencies.status().isAnswering()) {
      readStore();
    }
    order = new ReadinessOrder(dependencies.live()::readiness, marks);
    hub =
        new EventHub(
            names, marks, order, this::shown, dependencies.live()::inHand, this::alarmEvent);
    listen();
  }

  private void listen() {
    dependencies.database().roster().onChange(names::forget);
    dependencies.database().roster().onChange(knownTrackers::readAgain);
    dependencies.alarms().subscribe((change, alarm) -> hub.alarmsChanged());
    dependencies.live().subscribe(hub);
    derivers.calibrations().subscribe(this::publish);
  }

  /**
   * Reads what calls and alarms need in memory.
   *
   * @throws StoreException if the store does not answer; to be tried again
   */
  void readStore() {
    names.readFirst();
    knownTrackers.read();
    marks.read();
  }

  /** Has ready what the first board after a start asks for. */
  void rehearse() {
    hub.rehearse(dependencies.live().readiness());
  }

  /** Has read anew, soon, what another service may have changed. */
  void readTold() {
    names.forget();
    knownTrackers.readAgain();
    marks.readSoon();
  }

  private void publish(List<Calibration> changed) {
    marks.changed(changed);
    hub.publish(
        "calibrations", Map.of("calibrations", CalibrationTable.of(names::of).json(changed)));
    changed.stream().map(Calibration::tracker).distinct().forEach(hub::publishAgain);
  }

  private byte[] alarmEvent() {
    return EventClient.event(
        "alarms", Json.write(Map.of("alarms", AlarmTable.shown(dependencies.alarms(), names))));
  }

  private Set<String> shown() {
    return dependencies.live().readiness().stream()
        .map(Readiness::tracker)
        .collect(Collectors.toSet());
  }

  /** Adds the calls to a server, and has them end with it. */
  void addTo(JavalinConfig config, AccessPairing pairing) {
    config.routes.before(new ServiceGate(dependencies.status())::check);
    config.routes.before(new RackGate(otherRacks)::check);
    config.events.serverStopping(hub::close);
    config.events.serverStopped(knownTrackers::close);
    MetricsCalls metrics =
        new MetricsCalls(ingest)
            .watching(dependencies.live())
            .trackers(dependencies.live(), names, settings.metricTrackers())
            .alarms(dependencies.alarms())
            .database(dependencies.database())
            .intake(intake);
    config.routes.after(metrics::count);
    Routes routes = new Routes(config.routes);
    addWatched(routes);
    addStored(routes, dependencies.database().archive());
    addUploads(routes);
    addSheet(routes);
    metrics.addTo(routes);
    new OpenApiCalls().addTo(routes);
    PageCalls.addTo(routes);
    pairing.addTo(routes);
    routes.addOptions();
  }

  /** Calls about the present. */
  private void addWatched(Routes routes) {
    new HealthCalls(
            dependencies.database(),
            dependencies.live(),
            ingest::trouble,
            derivers::status,
            dependencies.status())
        .addTo(routes);
    new PortCalls(
            ingest,
            dependencies.clock()::nowUs,
            dependencies.database()::health,
            dependencies.status())
        .addTo(routes);
    new ReadinessCalls(dependencies.live(), names, marks, order, this::isKnown).addTo(routes);
    new AlarmCalls(dependencies.alarms(), names, dependencies.clock()).addTo(routes);
    new EventCalls(
            hub,
            dependencies.live(),
            settings.streams().most(),
            settings.access().limits().eventStreams(),
            settings.streams().heartbeat())
        .addTo(routes);
  }

  /** Calls that read or change what is stored. */
  private void addStored(Routes routes, SoakArchive archive) {
    Database database = dependencies.database();
    MarkTemperature marked = new MarkTemperature(database.calibrationTable());
    new TrackerCalls(database.roster()).addTo(routes);
    new SoakCalls(database, dependencies.watch(), names).addTo(routes);
    new SoakDataCalls(archive).addTo(routes);
    new RetentionCalls(database.retention(), dependencies.clock()).addTo(routes);
    new HistoryCalls(archive).addTo(routes);
    new ImportCalls(database, dependencies.watch(), otherRacks).addTo(routes);
    new MergeCalls(database, dependencies.watch(), otherRacks).addTo(routes);
    new SoakFigureCalls(archive, dependencies.watch(), marked).addTo(routes);
    new LimitsCalls(dependencies.watch(), archive, dependencies.clock()).addTo(routes);
    new PreviewCalls(archive, dependencies.watch(), names).addTo(routes);
    new CalibrationCalls(database, derivers.calibrations(), names).addTo(routes);
    new TrackerFigureCalls(database, derivers.figures().runner(), names).addTo(routes);
    new CurveCalls(database, names).addTo(routes);
    new LotCalls(database, names, dependencies.watch()::limits).addTo(routes);
    new ScreeningCalls(database, names, dependencies.watch()::limits).addTo(routes);
  }

  /** What spreadsheets read. */
  private void addSheet(Routes routes) {
    ReadinessSheet readiness = new ReadinessSheet(dependencies.live(), names, marks, order);
    Database database = dependencies.database();
    LotSheet lots = new LotSheet(database, names, dependencies.watch()::limits);
    SheetTables tables = new SheetTables(database, names, readiness, lots);
    SheetTrackers trackers = new SheetTrackers(names, dependencies.live(), knownTrackers::has);
    CellNames cells = new CellNames(tables.cells());
    new CellCalls(cells, trackers).addTo(routes);
    new SheetCalls(tables.all(), cells, trackers).addTo(routes);
  }

  private void addUploads(Routes routes) {
    LongSupplier dateMs = System::currentTimeMillis;
    UploadContext context =
        new UploadContext(
            new UploadScheduler(intake),
            dependencies.arrivals(),
            otherRacks,
            new NewTrackerQuota(settings.uploads(), knownTrackers, names::lists, dateMs),
            new BootClocks(),
            dependencies.clock(),
            dateMs,
            settings.uploads().ahead(),
            dependencies.database().retention().dropped()::refusal);
    SampleCalls samples =
        new SampleCalls(context, settings.uploads().largestBytes(), dependencies.status());
    samples.addTo(routes);
    new HeardCalls(context).addTo(routes);
    new ImportedFileCalls(
            dependencies.database(),
            samples,
            imported -> context.recorded(sink(imported)),
            dependencies.status())
        .addTo(routes);
  }

  /** Where the samples of an import go. */
  private SampleSink sink(long imported) {
    SoakWatch watch = dependencies.watch();
    return intake.around(
        new OffsetSink(samples -> watch.accept(samples, imported), names::temperatureOffsetCOf));
  }

  private boolean isKnown(String id) {
    Database database = dependencies.database();
    SoakQuery any = new SoakQuery(id, null, null, null, null, null, 1);
    return database.roster().find(id).isPresent() || !database.archive().soaks(any).isEmpty();
  }

  /** For a server that was never started. */
  @Override
  public void close() {
    hub.close();
    knownTrackers.close();
  }
}
