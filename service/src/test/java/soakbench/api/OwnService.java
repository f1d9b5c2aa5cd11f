package soakbench.api;

import java.nio.file.Path;
import java.util.concurrent.atomic.AtomicLong;
import soakbench.live.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.DatabaseSettings;

/** A service that a test has to itself: its limits may be changed and it may be started again. */
final class OwnService implements AutoCloseable {
  final AtomicLong nowUs = new AtomicLong(Service.START_US);
  private final Path folder;
  Database database;
  SoakWatch watch;
  Http http;
  private ApiServer server;

  /**
   * @param given limits given at the start, or null
   */
  OwnService(Path folder, Limits given) {
    this.folder = folder;
    start(given);
  }

  private void start(Limits given) {
    database = Database.open(DatabaseSettings.embedded(folder));
    watch = new SoakWatch(database.soakStore(), given, nowUs::get);
    watch.restore();
    server = ApiServer.start(ApiSettings.local(0), watch, database, nowUs::get);
    http = new Http(server.url());
  }

  /** Stops everything, the database too, and starts it again on the same data. */
  void restart(Limits given) {
    close();
    start(given);
  }

  @Override
  public void close() {
    server.close();
    database.close();
  }
}
