package soakbench.api.lots;

import java.sql.Connection;
import java.util.concurrent.atomic.AtomicLong;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.QuickStop;
import soakbench.api.Service;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/** A service of its own whose database holds lots that were not recorded but stored. */
public final class LotService implements AutoCloseable {
  public final Http http;
  private final Database database;
  private final ApiServer server;

  public LotService(StoredLots lots) throws Exception {
    DatabaseSettings settings = SharedServer.empty();
    AtomicLong nowUs = new AtomicLong(Service.START_US);
    database = Database.open(settings);
    SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, nowUs::get);
    watch.restore();
    server = QuickStop.of(ApiServer.start(ApiSettings.local(0), watch, database, nowUs::get));
    http = new Http(server.url());
    try (Connection connection = SharedServer.connect(settings)) {
      lots.store(http, connection);
    }
  }

  @Override
  public void close() {
    server.close();
    database.close();
  }
}
