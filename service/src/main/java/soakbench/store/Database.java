package soakbench.store;

import java.io.IOException;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicReference;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.live.StoreException;
import soakbench.live.calibration.CalibrationReports;
import soakbench.live.deriving.DerivedStore;
import soakbench.lots.SoakFigures;
import soakbench.model.RackSet;
import soakbench.readiness.Calibration;
import soakbench.store.chunks.Chunks;
import soakbench.store.connection.Announcements;
import soakbench.store.connection.ChunkStatus;
import soakbench.store.connection.DatabaseHealth;
import soakbench.store.connection.FirstConnection;
import soakbench.store.connection.HealthProbe;
import soakbench.store.connection.Lease;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Retries;
import soakbench.store.connection.Schema;
import soakbench.store.connection.Writer;
import soakbench.store.connection.WriterAbsence;
import soakbench.store.connection.WriterLock;
import soakbench.store.derived.CalibrationReportRows;
import soakbench.store.derived.DerivedCalibrations;
import soakbench.store.derived.DerivedFigures;
import soakbench.store.derived.DerivedSummaries;
import soakbench.store.derived.UnitDays;
import soakbench.store.derived.UnitFigures;
import soakbench.store.derived.WarmUpTraces;
import soakbench.store.retention.SampleRetention;
import soakbench.store.room.RoomWatch;
import soakbench.store.rows.RacksAndLots;
import soakbench.store.server.DataFolder;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.EmbeddedServer;
import soakbench.store.server.ServerAddress;

/**
 * The database, opened: its tables are up to date and it answers. Close it to stop our own server;
 * a program that ends without closing leaves the server running until the next start stops it.
 */
public final class Database implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Database.class);
  private static final int READING_ANSWER_S = 10;
  private static final long POLL_MS = 200;
  private static final long ENDING_MS = 2_000;
  private static final long DEAD_MS = 60_000;

  private final DatabaseSettings settings;
  private final RackSet racks;
  private final Pools pools = new Pools();
  private final HealthProbe probe = new HealthProbe();
  private final Chunks chunks = new Chunks(pools);
  private final SoakChanges changed = new SoakChanges();
  private final SoakStore soakStore = new PostgresStore(pools, changed);
  private final Roster roster = new Roster(pools, changed);
  private final LeftOutSoaks leftOut = new LeftOutSoaks(pools, changed);
  private final Imports imports = new Imports(pools);
  private final ImportRoster importRoster = new ImportRoster(pools, roster);
  private final Merges merges = new Merges(pools, roster);
  private final SoakArchive archive = new SoakArchive(pools);
  private final ScreeningLimits screeningLimits = new ScreeningLimits(pools);
  private final UnitDays unitDays = new UnitDays(pools);
  private final WarmUpTraces warmUpTraces = new WarmUpTraces(pools);
  private final DerivedStore<SoakSummary.Thermal> summaries =
      DerivedSummaries.store(pools, soakStore.reader(), changed.summaries);
  private final DerivedStore<SoakFigures> figures =
      DerivedFigures.store(pools, soakStore.reader(), changed.figures);
  private final DerivedStore<List<Calibration>> calibrations =
      DerivedCalibrations.store(pools, soakStore.reader(), changed.calibrations);
  private final CalibrationReports calibrationReports = new CalibrationReportRows(pools);
  private final DerivedFigures figureTable = new DerivedFigures(pools, changed.figures);
  private final UnitFigures unitFigures = new UnitFigures(pools, changed.figures);
  private final DerivedCalibrations calibrationTable =
      new DerivedCalibrations(pools, changed.calibrations);
  private final SampleRetention retention;
  private final RoomWatch room;
  private final WriterAbsence writerAbsence = new WriterAbsence();
  private final AtomicReference<EmbeddedServer> embedded = new AtomicReference<>();
  private volatile WriterLock lock;
  private volatile ChunkStatus chunksFound;
  private volatile StoreException inUse;
  private volatile boolean closed;

  private Database(DatabaseSettings settings, RackSet racks) {
    this.settings = settings;
    this.room = new RoomWatch(pools, settings.dataFolder());
    this.racks = racks;
    this.retention = new SampleRetention(pools, racks);
    changed.derivesFor(racks);
    pools.announcements().subscribe(changed::heard);
    pools.announcements().subscribe(this::heard);
    roster.onChange(retention.dropped()::forget);
  }

  /** Trackers may have been moved or merged elsewhere, and samples dropped. */
  private void heard(Announcements.News news) {
    if (news.told()) {
      retention.dropped().forget();
    }
  }

  /** One that is not open yet: calls fail and say so. */
  public static Database prepared(DatabaseSettings settings) {
    return prepared(settings, RackSet.ALL);
  }

  /**
   * The same.
   *
   * @param racks those to write for
   */
  public static Database prepared(DatabaseSettings settings, RackSet racks) {
    return new Database(settings, racks);
  }

  /**
   * Starts our own server or goes to the given one, and brings the tables up to date.
   *
   * @throws StoreException with one sentence that says what is wrong and what to do: the folder is
   *     in use or not ours, the server can't be reached or refuses us, another writes there, the
   *     schema is newer
   */
  public static Database open(DatabaseSettings settings) {
    Database database = prepared(settings);
    try {
      database.openToWrite(step -> {});
      return database;
    } catch (RuntimeException e) {
      database.close();
      throw e;
    }
  }

  /**
   * The same, reporting its steps.
   *
   * @param step receives what is being done, in a few words
   * @throws StoreException as {@link #open}; a fault that passes is waited for once the server has
   *     been reached
   */
  public void openToWrite(Consumer<String> step) {
    if (!takeOver(step) && !takeOverFromOneThatDied()) {
      if (inUse != null) {
        throw inUse;
      }
      throw new StoreException(
          "another Soakbench writes to %s (%s); stop it, or start this one with --read-only or --standby%s"
              .formatted(
                  settings,
                  writer().map(Lease::words).orElse("not said who"),
                  racks.all() ? "" : ", or for other racks"),
          null,
          false);
    }
  }

  /** A server may need a moment to detect that a writer has ended, longer when it is busy. */
  private boolean takeOverFromOneThatDied() {
    long startNs = System.nanoTime();
    while (!settings.isEmbedded()) {
      long waitedMs = TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - startNs);
      boolean patient =
          waitedMs < ENDING_MS
              || waitedMs < DEAD_MS && writer().map(Lease::holder).filter(Writer::died).isPresent();
      if (!patient || !Retries.slept(POLL_MS)) {
        return false;
      }
      if (takeOver(step -> {})) {
        return true;
      }
    }
    return false;
  }

  /**
   * Opens it to write if nobody else writes there.
   *
   * @param step receives what is being done, in a few words
   * @return whether it did
   * @throws StoreException as {@link #open}, but not because another writes
   */
  public boolean takeOver(Consumer<String> step) {
    if (settings.isEmbedded()) {
      return takeOverOurs(step);
    }
    return write(reached(step), step);
  }

  private ServerAddress reached(Consumer<String> step) {
    ServerAddress address = ServerAddress.of(settings);
    if (lock == null) {
      step.accept("reaching the database");
      FirstConnection.checkWhenStarted(address);
      lock = new WriterLock(address, racks);
    }
    return address;
  }

  /**
   * The same for a standby, to be called periodically: a server that was restarted or lost a
   * connection has released the lock of a writer that is alive and about to take it again.
   */
  public boolean takeOverAbandoned(Consumer<String> step) {
    if (settings.isEmbedded() || mayWrite()) {
      // A folder's lock goes only with its process.
      return takeOver(step);
    }
    reached(step);
    return isAbandoned() && takeOver(step);
  }

  /**
   * For a standby, to be called some times a second beside what else it does: what it reads may
   * take longer than it has to wait for a writer that is gone.
   */
  public void lookForWriter() {
    if (!settings.isEmbedded() && !mayWrite()) {
      isAbandoned();
    }
  }

  /** One asks at a time, so that what becomes free is told once. */
  private synchronized boolean isAbandoned() {
    try {
      boolean wasFree = writerAbsence.isFree();
      boolean abandoned = writerAbsence.found(writer(), System.nanoTime());
      if (!wasFree && writerAbsence.isFree()) {
        LOG.info("nobody writes for {}; this service does in some seconds", racks.words());
      }
      return abandoned;
    } catch (StoreException e) {
      writerAbsence.unknown();
      throw e;
    }
  }

  /** For which racks this one writes, where it does. */
  public RackSet racks() {
    return racks;
  }

  /** Whether nobody wrote at the last {@link #takeOverAbandoned}. */
  public boolean isFree() {
    return writerAbsence.isFree();
  }

  private boolean takeOverOurs(Consumer<String> step) {
    EmbeddedServer running = embedded.get();
    if (running != null) {
      // What came after the server's start had failed.
      return write(running.address(), step);
    }
    EmbeddedServer server;
    try {
      server =
          EmbeddedServer.start(settings.dataFolder(), () -> step.accept("starting the database"));
    } catch (DataFolder.FolderInUseException e) {
      inUse = e;
      return false;
    }
    embedded.set(server);
    try {
      refuseClosed();
      return write(server.address(), step);
    } catch (RuntimeException e) {
      stopEmbedded();
      throw e;
    }
  }

  /** Either this sees that it is closed, or {@link #close} sees what was opened. */
  private void refuseClosed() {
    if (closed) {
      throw new StoreException("the database is closed", null, false);
    }
  }

  private boolean write(ServerAddress address, Consumer<String> step) {
    WriterLock before = lock;
    WriterLock mine =
        before != null && before.isOf(address) ? before : new WriterLock(address, racks);
    lock = mine;
    if (before != null && before != mine) {
      before.close();
    }
    probe.ask(address);
    if (!mine.isHeld() && !Retries.untilThere(mine::tryTake) && !freed(mine)) {
      return false;
    }
    step.accept("bringing the tables up to date");
    boolean timescale =
        Retries.untilThere(
            () -> Schema.migrate(address.dataSource(0), address, !settings.isEmbedded()));
    pools.open(address, mine);
    if (timescale) {
      chunks.start(address, settings.chunks());
    }
    return true;
  }

  /**
   * Whether the right to write came free. Our own server has no other writer: what holds it there
   * is a connection of this start or of an ended program, whose end the server has yet to notice.
   */
  private boolean freed(WriterLock mine) {
    long startNs = System.nanoTime();
    while (settings.isEmbedded()
        && System.nanoTime() - startNs < TimeUnit.MILLISECONDS.toNanos(DEAD_MS)
        && Retries.slept(POLL_MS)) {
      if (Retries.untilThere(mine::tryTake)) {
        return true;
      }
    }
    return false;
  }

  /**
   * Goes to a server to which another writes, to read only.
   *
   * @param step receives what is being done, in a few words
   * @throws StoreException as {@link #open}; transient where the other is still starting
   */
  public void openToRead(Consumer<String> step) {
    step.accept("reaching the database");
    ServerAddress address = addressToRead();
    FirstConnection.check(address);
    Schema.check(address.dataSource(READING_ANSWER_S), address);
    if (lock == null || !lock.isOf(address)) {
      lock = new WriterLock(address, racks);
    }
    pools.open(address, null);
    probe.ask(address);
  }

  private ServerAddress addressToRead() {
    return settings.isEmbedded()
        ? EmbeddedServer.addressOfAnother(settings.dataFolder())
        : ServerAddress.of(settings);
  }

  /**
   * Who writes for some of this one's racks now, this program or another; empty for nobody.
   *
   * @throws StoreException if the server does not answer
   */
  public Optional<Lease> writer() {
    WriterLock asked = lock;
    if (asked == null) {
      return Optional.empty();
    }
    return pools.isOpen() ? pools.request("asking who writes", asked::holder) : asked.holder();
  }

  /**
   * Everybody who writes there now, for whatever racks; the oldest first.
   *
   * @throws StoreException if the server does not answer
   */
  public List<Lease> writers() {
    return pools.request("asking who writes", c -> WriterLock.leases(c, RacksAndLots.racks(c)));
  }

  /**
   * Who writes for a rack now; empty for nobody.
   *
   * @param rack its name; empty for trackers without one
   * @throws StoreException if the server does not answer
   */
  public Optional<Lease> writerFor(String rack) {
    return pools.request("asking who writes", c -> WriterLock.leases(c, List.of(rack))).stream()
        .filter(lease -> lease.racks().has(rack))
        .findFirst();
  }

  /** Whether this program has the right to write, as far as it knows. */
  public boolean mayWrite() {
    WriterLock asked = lock;
    return asked != null && asked.isHeld();
  }

  /**
   * The program that took the right to write from this one and has held it for too long to give it
   * back soon; empty while this one has it, never had it, or may yet get it back.
   */
  public Optional<Lease> supersededBy() {
    WriterLock asked = lock;
    return asked == null ? Optional.empty() : asked.supersededBy();
  }

  /** What other programs commit here, as soon as it is opened. */
  public Announcements announcements() {
    return pools.announcements();
  }

  /** For the writer of samples and of what is derived from them. */
  public SoakStore soakStore() {
    return soakStore;
  }

  public Roster roster() {
    return roster;
  }

  /** Soaks that people left out of the figures. */
  public LeftOutSoaks leftOut() {
    return leftOut;
  }

  /** By what people screen units. */
  public ScreeningLimits screeningLimits() {
    return screeningLimits;
  }

  /** On which day each tracker was measured. */
  public UnitDays unitDays() {
    return unitDays;
  }

  /** How trackers warmed up. */
  public WarmUpTraces warmUpTraces() {
    return warmUpTraces;
  }

  /** Recordings that people brought in. */
  public Imports imports() {
    return imports;
  }

  /** What imports wrote into the roster. */
  public ImportRoster importRoster() {
    return importRoster;
  }

  /** Trackers whose samples were given to another. */
  public Merges merges() {
    return merges;
  }

  /** How long samples are kept. */
  public SampleRetention retention() {
    return retention;
  }

  /** How much room it takes and has left. */
  public RoomWatch room() {
    return room;
  }

  /** For reading, from many threads. */
  public SoakArchive archive() {
    return archive;
  }

  /** Every soak's summary, for what derives it anew. */
  public DerivedStore<SoakSummary.Thermal> summaries() {
    return summaries;
  }

  /** Every soak's figures, for what derives them. */
  public DerivedStore<SoakFigures> figures() {
    return figures;
  }

  /** Every soak's calibrations, for what derives them. */
  public DerivedStore<List<Calibration>> calibrations() {
    return calibrations;
  }

  /** People's reports about calibrations. */
  public CalibrationReports calibrationReports() {
    return calibrationReports;
  }

  /** Every soak's figures, for reading. */
  public DerivedFigures figureTable() {
    return figureTable;
  }

  /** Every tracker's figures over all its soaks. */
  public UnitFigures unitFigures() {
    return unitFigures;
  }

  /** Every soak's calibrations, for reading. */
  public DerivedCalibrations calibrationTable() {
    return calibrationTable;
  }

  /** The database's health; returns within two seconds and never throws. */
  public DatabaseHealth health() {
    String kind = settings.isEmbedded() ? "embedded" : "given";
    try {
      HealthProbe.Found found = probe.found();
      chunksFound = found.chunks().orElse(null);
      return new DatabaseHealth(true, kind, chunksFound, found.version(), "the database answers");
    } catch (StoreException e) {
      return new DatabaseHealth(false, kind, chunksFound, null, e.getMessage());
    }
  }

  /** Closes all connections, cuts off what is under way, and stops our own server. */
  @Override
  public void close() {
    closed = true;
    try {
      probe.close();
      chunks.close();
      pools.close();
      if (lock != null) {
        lock.close();
      }
    } finally {
      stopEmbedded();
    }
  }

  private void stopEmbedded() {
    EmbeddedServer server = embedded.getAndSet(null);
    try {
      if (server != null) {
        server.close();
      }
    } catch (IOException e) {
      LOG.warn("the database server did not stop cleanly ({}); the next start will see to it", e);
    }
  }
}
