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
  final Database database;
  SoakWatch watch;
  Http http;
  private ApiServer server;

  /**
   * @param given limits given at the start, or null
   */
  OwnService(Path folder, Limits given) {
    database = Database.open(DatabaseSettings.embedded(folder));
    start(given);
  }

  private void start(Limits given) {
    watch = new SoakWatch(database.soakStore(), given, nowUs::get);
    watch.restore();
    server = ApiServer.start(ApiSettings.local(0), watch, database, nowUs::get);
    http = new Http(server.url());
  }

  /** Starts again on what is stored; nothing else is left of the time before. */
  void restart(Limits given) {
    server.close();
    start(given);
  }

  @Override
  public void close() {
    server.close();
    database.close();
  }
}
