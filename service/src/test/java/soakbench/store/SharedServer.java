package soakbench.store;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Stream;
import soakbench.store.connection.Schema;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.EmbeddedServer;
import soakbench.store.server.ReadyFolder;
import soakbench.store.server.ServerAddress;

/**
 * One database server for all test classes of this program, each with a database of its own there.
 * A server a class cost most of the time of many of them. What is about the server itself (its
 * start and end, its folder, its being killed) starts its own.
 */
public final class SharedServer {
  private static final String TABLES = "soakbench_tables";

  private static SharedServer only;

  private final Path folder;
  private final EmbeddedServer server;
  private int databases;

  private SharedServer() throws IOException {
    folder = Files.createTempDirectory("soakbench-shared-server");
    server = EmbeddedServer.start(ReadyFolder.in(folder));
    // Nobody pulls its plug: hundreds of commits that each wait for the disk hold up the others.
    execute("ALTER ROLE CURRENT_USER SET synchronous_commit = off");
    execute("CREATE DATABASE " + TABLES);
    ServerAddress tables = address(TABLES);
    Schema.migrate(tables.dataSource(0), tables, true);
    Runtime.getRuntime().addShutdownHook(new Thread(this::close, "shared database server"));
  }

  /** A new database that has the tables and nothing in them. */
  public static synchronized DatabaseSettings empty() {
    return server().copy();
  }

  private static SharedServer server() {
    try {
      if (only == null) {
        only = new SharedServer();
      }
      return only;
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  /** A new database without any table. */
  public static synchronized DatabaseSettings bare() {
    return server().made("");
  }

  /** The address of a database for {@code --db}, user, password and all. */
  public static String url(DatabaseSettings settings) {
    return settings.url() + "?user=" + settings.user() + "&password=" + settings.password();
  }

  /** A connection outside any pool. */
  public static Connection connect(DatabaseSettings settings) throws SQLException {
    return ServerAddress.of(settings).dataSource(60).getConnection();
  }

  private DatabaseSettings copy() {
    return made(" TEMPLATE " + TABLES);
  }

  private DatabaseSettings made(String how) {
    String name = "soakbench_" + ++databases;
    execute("CREATE DATABASE " + name + how);
    ServerAddress address = address(name);
    return DatabaseSettings.url(address.url(), address.user(), address.password());
  }

  private ServerAddress address(String database) {
    ServerAddress any = server.address();
    String url = any.url().replaceFirst("/[^/]*$", "/" + database);
    return new ServerAddress(url, any.user(), any.password());
  }

  private void execute(String sql) {
    try (Connection connection = server.address().dataSource(60).getConnection();
        Statement statement = connection.createStatement()) {
      statement.execute(sql);
    } catch (SQLException e) {
      throw new IllegalStateException(sql, e);
    }
  }

  private void close() {
    try {
      server.close();
      try (Stream<Path> files = Files.walk(folder)) {
        List<Path> deepestFirst = files.sorted(Comparator.reverseOrder()).toList();
        for (Path file : deepestFirst) {
          Files.delete(file);
        }
      }
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
