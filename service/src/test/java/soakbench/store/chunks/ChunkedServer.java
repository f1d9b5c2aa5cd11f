package soakbench.store.chunks;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.api.Assumptions;
import soakbench.store.connection.Query;
import soakbench.store.connection.Schema;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.GivenServer;
import soakbench.store.server.ServerAddress;

/** A database on the given server, where that has TimescaleDB; else the test is skipped. */
public final class ChunkedServer implements AutoCloseable {
  private final GivenServer server;

  private ChunkedServer(GivenServer server) {
    this.server = server;
  }

  public static ChunkedServer orSkip() throws SQLException {
    ChunkedServer made = new ChunkedServer(GivenServer.orSkip());
    boolean there =
        made.one("SELECT count(*) FROM pg_available_extensions WHERE name = 'timescaledb'") > 0;
    if (!there) {
      made.close();
      System.err.println("skipped: tests of chunks (the given server has no TimescaleDB)");
    }
    Assumptions.assumeTrue(there, "no TimescaleDB");
    return made;
  }

  public DatabaseSettings settings() {
    return server.settings();
  }

  ServerAddress address() {
    return ServerAddress.of(settings());
  }

  /** Makes the tables as they are where there is no TimescaleDB. */
  void makePlainTables() {
    Schema.migrate(address().dataSource(0), address(), false);
  }

  public void execute(String... statements) throws SQLException {
    try (Connection connection = address().dataSource(60).getConnection();
        Statement statement = connection.createStatement()) {
      for (String sql : statements) {
        statement.execute(sql);
      }
    }
  }

  public long one(String sql, Object... values) throws SQLException {
    return list(rows -> rows.getLong(1), sql, values).get(0);
  }

  <T> List<T> list(Query.Row<T> row, String sql, Object... values) throws SQLException {
    try (Connection connection = address().dataSource(60).getConnection()) {
      return Query.list(connection, row, sql, values);
    }
  }

  /** Whether its licence allows compression and minutes. A database without it knows of none. */
  boolean isCommunity() throws SQLException {
    execute("CREATE EXTENSION IF NOT EXISTS timescaledb");
    return list(r -> r.getString(1), "SHOW timescaledb.license").contains("timescale");
  }

  void skipWithoutCommunityLicence() throws SQLException {
    Assumptions.assumeTrue(isCommunity(), "TimescaleDB's licence there does not allow it");
  }

  /** Ends all connections to it, as a server does that is restarted. */
  void cutConnections() throws SQLException {
    one(
        "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity"
            + " WHERE datname = current_database() AND pid <> pg_backend_pid()");
  }

  @Override
  public void close() throws SQLException {
    server.close();
  }
}
