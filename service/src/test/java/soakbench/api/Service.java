package soakbench.api;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.extension.ExtensionContext;
import org.junit.jupiter.api.extension.ExtensionContext.Namespace;
import org.junit.jupiter.api.extension.ExtensionContext.Store.CloseableResource;
import org.junit.jupiter.api.extension.ParameterContext;
import org.junit.jupiter.api.extension.ParameterResolver;
import soakbench.api.health.ServiceStatus;
import soakbench.api.http.Times;
import soakbench.api.samples.UploadLimits;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.live.arrival.ArrivalListener;
import soakbench.live.arrival.ArrivalWatch;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/**
 * The whole service on a real database and a free port, started once for all tests that ask for it.
 * Each test uses trackers of its own.
 */
public final class Service implements CloseableResource, AutoCloseable {
  /** Most bytes of an upload here; small, so that too much is quickly sent. */
  public static final long LARGEST_UPLOAD_BYTES = 16L << 20;

  /** A morning in the invented workshop: when samples of the tests begin. */
  public static final long START_US = Times.parse("2026-03-01T08:00:00Z").orElseThrow();

  public final AtomicLong nowUs = new AtomicLong(START_US);
  private final DatabaseSettings databaseSettings = SharedServer.empty();
  public final Database database;
  public final SoakWatch watch;
  public final ApiServer server;
  public final Http http;

  private Service() {
    database = Database.open(databaseSettings);
    watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, nowUs::get);
    watch.restore();
    ApiSettings settings =
        ApiSettings.local(0)
            .withUploads(UploadLimits.DEFAULT.withLargestBytes(LARGEST_UPLOAD_BYTES))
            .withStreams(new ApiSettings.Streams(100, java.time.Duration.ofMillis(200)));
    server = QuickStop.of(ApiServer.start(settings, watch, database, nowUs::get));
    http = new Http(server.url());
  }

  @Override
  public void close() {
    server.close();
    database.close();
  }

  /** Gives the running service to tests that have a parameter of this type. */
  public static final class Running implements ParameterResolver {
    @Override
    public boolean supportsParameter(ParameterContext parameter, ExtensionContext context) {
      return parameter.getParameter().getType() == Service.class;
    }

    @Override
    public Object resolveParameter(ParameterContext parameter, ExtensionContext context) {
      return context
          .getRoot()
          .getStore(Namespace.create(Service.class))
          .getOrComputeIfAbsent(Service.class, key -> new Service(), Service.class);
    }
  }

  /** Changes rows of the database as no call does. */
  public void execute(String sql, Object... values) throws SQLException {
    try (Connection connection = SharedServer.connect(databaseSettings)) {
      Query.change(connection, sql, values);
    }
  }

  /** Another server over the same watch and database; says to whom it tells what is posted. */
  public ApiServer hearing(ApiSettings settings, ArrivalListener arrivals) {
    return hearing(settings, arrivals, ServiceStatus.ready());
  }

  /** The same of one that stands otherwise. */
  public ApiServer hearing(ApiSettings settings, ArrivalListener arrivals, ServiceStatus status) {
    LiveVerdicts live =
        new LiveVerdicts(watch, new ArrivalWatch(watch::limits, nowUs::get), nowUs::get);
    return QuickStop.of(
        ApiServer.start(
            settings,
            new ApiDependencies(
                watch, live, arrivals, database, nowUs::get, new AlarmRegistry(), status)));
  }
}
