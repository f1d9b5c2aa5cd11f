package soakbench.api;

import java.util.concurrent.atomic.AtomicLong;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/** A service that a test has to itself: its limits may be changed and it may be started again. */
public final class OwnService implements AutoCloseable {
  public final AtomicLong nowUs = new AtomicLong(Service.START_US);
  public final Database database;
  public SoakWatch watch;
  public Http http;
  private ApiServer server;

  /**
   * @param given limits given at the start, or null
   */
  public OwnService(Limits given) {
    database = Database.open(SharedServer.empty());
    start(given);
  }

  private void start(Limits given) {
    watch = new SoakWatch(database.soakStore(), given, nowUs::get);
    watch.restore();
    server = QuickStop.of(ApiServer.start(ApiSettings.local(0), watch, database, nowUs::get));
    http = new Http(server.url());
  }

  /** Starts again on what is stored; nothing else is left of the time before. */
  public void restart(Limits given) {
    server.close();
    start(given);
  }

  @Override
  public void close() {
    server.close();
    database.close();
  }
}
