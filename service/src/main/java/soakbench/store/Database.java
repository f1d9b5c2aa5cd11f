package soakbench.store;

import java.io.IOException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.SoakStore;
import soakbench.live.StoreException;

/**
 * The database, opened: its tables are up to date and it answers. Close it to stop our own server;
 * a program that ends without closing leaves the server running until the next start stops it.
 */
public final class Database implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Database.class);

  private final EmbeddedServer embedded;
  private final Pools pools;
  private final HealthProbe probe;
  private final SoakStore soakStore;
  private final Roster roster;
  private final Recordings recordings;
  private final KeptFigures figures;
  private final KeptCalibrations calibrations;
  private final CalibrationMarks calibrationMarks;
  private final KeptSummaries summaries;

  private Database(EmbeddedServer embedded, Pools pools, boolean hypertables) {
    this.embedded = embedded;
    this.pools = pools;
    String kind = embedded == null ? "given" : "embedded";
    this.probe = new HealthProbe(pools, kind, hypertables);
    ChangedSoaks changed = new ChangedSoaks();
    this.soakStore = new PostgresStore(pools, changed);
    this.roster = new Roster(pools, changed);
    this.recordings = new Recordings(pools);
    this.figures = new KeptFigures(pools, changed.figures);
    this.calibrations = new KeptCalibrations(pools, changed.calibrations);
    this.calibrationMarks = new CalibrationMarks(pools, changed.calibrations);
    this.summaries = new KeptSummaries(pools, changed.summaries);
  }

  /**
   * Starts our own server or goes to the given one, and brings the tables up to date.
   *
   * @throws StoreException with one sentence that says what is wrong and what to do: the folder is
   *     in use or not ours, the server can't be reached or refuses us, the schema is newer
   */
  public static Database open(DatabaseSettings settings) {
    if (!settings.isEmbedded()) {
      ServerAddress address = ServerAddress.of(settings);
      FirstContact.check(address);
      return open(null, address);
    }
    EmbeddedServer server = EmbeddedServer.start(settings.dataFolder());
    try {
      return open(server, server.address());
    } catch (RuntimeException e) {
      stop(server);
      throw e;
    }
  }

  private static Database open(EmbeddedServer server, ServerAddress address) {
    boolean hypertables = Schema.migrate(address.dataSource(0), address, server == null);
    return new Database(server, new Pools(address), hypertables);
  }

  /** For the one who writes samples and what is derived from them. */
  public SoakStore soakStore() {
    return soakStore;
  }

  public Roster roster() {
    return roster;
  }

  /** For reading, from many threads. */
  public Recordings recordings() {
    return recordings;
  }

  /** Every soak's figures. */
  public KeptFigures figures() {
    return figures;
  }

  /** Every soak's calibrations, for the one who derives them. */
  public KeptCalibrations calibrations() {
    return calibrations;
  }

  /** What is kept of each soak for those after it, for the one who derives it anew. */
  public KeptSummaries summaries() {
    return summaries;
  }

  /** Every soak's calibrations, for reading. */
  public CalibrationMarks calibrationMarks() {
    return calibrationMarks;
  }

  /** How the database is; answers within two seconds and never throws. */
  public DatabaseHealth health() {
    return probe.ask();
  }

  /** Closes all connections and stops our own server. */
  @Override
  public void close() {
    probe.close();
    pools.close();
    if (embedded != null) {
      stop(embedded);
    }
  }

  private static void stop(EmbeddedServer server) {
    try {
      server.close();
    } catch (IOException e) {
      LOG.warn("the database server did not stop cleanly ({}); the next start will see to it", e);
    }
  }
}
