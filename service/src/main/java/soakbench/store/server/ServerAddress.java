package soakbench.store.server;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Properties;
import java.util.logging.Level;
import java.util.logging.Logger;
import org.postgresql.Driver;
import org.postgresql.PGProperty;
import org.postgresql.ds.PGSimpleDataSource;
import soakbench.live.StoreException;

/** Where a server listens and as whom to log in. */
public record ServerAddress(String url, String user, String password) {
  /** The driver prints a line of its own about a wrong port; ours says it. Held, or it is lost. */
  private static final Logger DRIVER_LOG = Logger.getLogger("org.postgresql.util");

  static {
    DRIVER_LOG.setLevel(Level.OFF);
  }

  private static final int CONNECT_TIMEOUT_S = 5;

  /**
   * Has the server notice within some 20 s, not after hours, that this computer has vanished:
   * nobody could take over till then, and a standby waits five seconds more. Set once connected,
   * since not every pooler lets it through as a startup parameter.
   */
  private static final class VanishingNoticed extends PGSimpleDataSource {
    private static final long serialVersionUID = 1L;

    /**
     * How many compressed rows one change may unpack, here without a limit: a soak into which a
     * late sample falls is derived again as a whole, and three weeks are 1.8 million bins.
     * Elsewhere than on TimescaleDB it means nothing.
     */
    private static final String UNPACKED_ROWS =
        "timescaledb.max_tuples_decompressed_per_dml_transaction";

    /**
     * A server that compiles statements takes a second for one that goes over many chunks; ours
     * take milliseconds.
     */
    private static final String NOT_COMPILED = "SET jit = off";

    /**
     * A late row into a compressed chunk has the server unpack a thousand times to see that its own
     * is not among them, in memory that it gives back to the system after each row, unless it gave
     * back a large piece before: then the C library keeps as much from then on, and a row takes
     * three fifths of the time. So it is made to hold, and give back, a million bytes.
     */
    private static final String KEEPS_MEMORY = "SELECT length(repeat('x', 1000000))";

    /**
     * A soak's rows come by the key in their order. Where a page is taken to cost four times as
     * much out of order, the default, which is a turning disk's, the server gathers and sorts them
     * on disk instead: twice the time for ten hours of bins.
     */
    private static final String BY_KEY = "SET random_page_cost = 1.1";

    private static final String SET =
        "SET tcp_keepalives_idle = 6; SET tcp_keepalives_interval = 4;"
            + " SET tcp_keepalives_count = 3; SET tcp_user_timeout = 18000;"
            + (" SET " + UNPACKED_ROWS + " = 0; " + NOT_COMPILED + "; " + BY_KEY + "; ")
            + KEEPS_MEMORY;

    @Override
    public Connection getConnection(String user, String password) throws SQLException {
      Connection connection = super.getConnection(user, password);
      try (Statement statement = connection.createStatement()) {
        statement.execute(SET);
        return connection;
      } catch (SQLException | RuntimeException e) {
        connection.close();
        throw e;
      }
    }
  }

  /**
   * @throws StoreException if the address is not one of PostgreSQL's
   */
  public static ServerAddress of(DatabaseSettings settings) {
    Properties parsed = parse(settings.url());
    String user = PGProperty.USER.getOrDefault(parsed);
    String password = PGProperty.PASSWORD.getOrDefault(parsed);
    return new ServerAddress(
        settings.url(),
        user == null ? settings.user() : user,
        password == null ? settings.password() : password);
  }

  private static Properties parse(String url) {
    Properties parsed = url.startsWith("jdbc:postgresql:") ? Driver.parseURL(url, null) : null;
    if (parsed == null) {
      throw new StoreException(
          "the database address \""
              + DatabaseSettings.redact(url)
              + "\" is not understood; write it as jdbc:postgresql://HOST:PORT/NAME?user=USER",
          null,
          false);
    }
    return parsed;
  }

  /**
   * Connections outside any pool.
   *
   * @param socketTimeoutS how long an answer may take, s; 0 for ever
   */
  public PGSimpleDataSource dataSource(int socketTimeoutS) {
    PGSimpleDataSource source = new VanishingNoticed();
    source.setURL(url);
    if (user != null) {
      source.setUser(user);
    }
    if (password != null) {
      source.setPassword(password);
    }
    source.setApplicationName("soakbench");
    source.setConnectTimeout(CONNECT_TIMEOUT_S);
    source.setSocketTimeout(socketTimeoutS);
    source.setTcpKeepAlive(true);
    return source;
  }

  public String server() {
    Properties parsed = parse(url);
    return PGProperty.PG_HOST.getOrDefault(parsed) + ":" + PGProperty.PG_PORT.getOrDefault(parsed);
  }

  public String database() {
    String name = PGProperty.PG_DBNAME.getOrDefault(parse(url));
    return name == null ? userName() : name;
  }

  public String userName() {
    return user == null ? System.getProperty("user.name") : user;
  }

  @Override
  public String toString() {
    return "database " + database() + " at " + server();
  }
}
