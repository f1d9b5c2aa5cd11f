package soakbench.store;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
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
 * start and end, its folder, its being killed) starts its own. With {@code
 * -Dsoakbench.test.shared=jdbc:…} the databases are made on that server, and dropped at the end.
 */
public final class SharedServer {
  private static final String GIVEN = System.getProperty("soakbench.test.shared");
  private static final String TABLES = "soakbench_tables";

  private static SharedServer only;

  private final ServerAddress server;
  private final List<String> databases = new ArrayList<>();

  /** Of our own server; null where one is given. */
  private final Path folder;

  private final EmbeddedServer own;

  private SharedServer() throws IOException {
    if (GIVEN != null) {
      folder = null;
      own = null;
      server = ServerAddress.of(DatabaseSettings.url(GIVEN));
    } else {
      folder = Files.createTempDirectory("soakbench-shared-server");
      own = EmbeddedServer.start(ReadyFolder.in(folder));
      server = own.address();
      // Nobody pulls its plug: hundreds of commits that each wait for the disk hold up the others.
      execute("ALTER ROLE CURRENT_USER SET synchronous_commit = off");
      execute("CREATE DATABASE " + TABLES);
      migrate(address(TABLES));
    }
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
    String password = settings.password() == null ? "" : "&password=" + settings.password();
    return settings.url() + "?user=" + settings.user() + password;
  }

  /** A connection outside any pool. */
  public static Connection connect(DatabaseSettings settings) throws SQLException {
    return ServerAddress.of(settings).dataSource(60).getConnection();
  }

  private DatabaseSettings copy() {
    if (own != null) {
      return made(" TEMPLATE " + TABLES);
    }
    // A database in which TimescaleDB works can't be copied.
    DatabaseSettings settings = made("");
    migrate(ServerAddress.of(settings));
    return settings;
  }

  private static void migrate(ServerAddress address) {
    Schema.migrate(address.dataSource(0), address, true);
  }

  private DatabaseSettings made(String how) {
    String name = "soakbench_" + ProcessHandle.current().pid() + "_" + databases.size();
    execute("CREATE DATABASE " + name + how);
    databases.add(name);
    ServerAddress address = address(name);
    return DatabaseSettings.url(address.url(), address.user(), address.password());
  }

  private ServerAddress address(String database) {
    String url = server.url().replaceFirst("/[^/]*$", "/" + database);
    return new ServerAddress(url, server.user(), server.password());
  }

  private void execute(String sql) {
    try (Connection connection = server.dataSource(60).getConnection();
        Statement statement = connection.createStatement()) {
      statement.execute(sql);
    } catch (SQLException e) {
      throw new IllegalStateException(sql, e);
    }
  }

  private void close() {
    if (own == null) {
      databases.forEach(name -> execute("DROP DATABASE " + name + " WITH (FORCE)"));
      return;
    }
    try {
      own.close();
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
