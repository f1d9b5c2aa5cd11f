package soakbench.store.server;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Optional;
import org.junit.jupiter.api.Assumptions;

/**
 * A database of our own on a server that a developer gives, else in a container with TimescaleDB;
 * dropped afterwards.
 */
public final class GivenServer implements AutoCloseable {
  static final String PROPERTY = "soakbench.test.db";

  private final ServerAddress server;
  private final String name = "soakbench_test_" + ProcessHandle.current().pid();

  private GivenServer(ServerAddress server) {
    this.server = server;
  }

  public static GivenServer orSkip() throws SQLException {
    String url =
        Optional.ofNullable(System.getProperty(PROPERTY)).or(TimescaleContainer::url).orElse(null);
    if (url == null) {
      System.err.println(
          "skipped: store tests on a given server (no -D" + PROPERTY + "=jdbc:…, no Docker here)");
    }
    Assumptions.assumeTrue(url != null, "no -D" + PROPERTY + ", no Docker");
    GivenServer given = new GivenServer(ServerAddress.of(DatabaseSettings.url(url)));
    given.execute("DROP DATABASE IF EXISTS " + given.name + " WITH (FORCE)");
    given.execute("CREATE DATABASE " + given.name);
    return given;
  }

  public DatabaseSettings settings() {
    String url = server.url().replace("/" + server.database(), "/" + name);
    return DatabaseSettings.url(url, server.user(), server.password());
  }

  @Override
  public void close() throws SQLException {
    execute("DROP DATABASE " + name + " WITH (FORCE)");
  }

  private void execute(String sql) throws SQLException {
    try (Connection connection = server.dataSource(120).getConnection();
        Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }
}
