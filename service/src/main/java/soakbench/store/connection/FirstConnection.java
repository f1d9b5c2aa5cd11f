package soakbench.store.connection;

import java.net.UnknownHostException;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import soakbench.host.Deadline;
import soakbench.live.StoreException;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ServerAddress;

/** The first connection to a server: where it fails, people must learn which setting is wrong. */
public final class FirstConnection {
  private static final int OLDEST_MAJOR = 14;
  private static final Duration STARTS_WITHIN = Duration.ofSeconds(60);
  private static final long POLL_MS = 500;

  private FirstConnection() {}

  /** The same for a server that may still be starting, for which it waits a while. */
  public static void checkWhenStarted(ServerAddress address) {
    Deadline deadline = Deadline.in(STARTS_WITHIN);
    while (true) {
      try {
        check(address);
        return;
      } catch (StoreException e) {
        boolean starting =
            e.getCause() instanceof SQLException fault
                && DatabaseFaults.state(fault).equals("57P03");
        if (!starting || deadline.isOver() || !Retries.slept(POLL_MS)) {
          throw e;
        }
      }
    }
  }

  /**
   * @throws StoreException if the server can't be used, with what to change
   */
  public static void check(ServerAddress address) {
    try (Connection connection = address.dataSource(10).getConnection()) {
      int major = connection.getMetaData().getDatabaseMajorVersion();
      if (major < OLDEST_MAJOR) {
        throw new StoreException(
            "the server at %s is PostgreSQL %d; Soakbench needs %d or newer"
                .formatted(address.server(), major, OLDEST_MAJOR),
            null,
            false);
      }
    } catch (SQLException e) {
      throw explain(address, e);
    }
  }

  private static StoreException explain(ServerAddress address, SQLException fault) {
    return switch (DatabaseFaults.state(fault)) {
      case "28P01", "28000" ->
          refused(
              "the database server at %s refuses user \"%s\" (%s); check user and password (%s)"
                  .formatted(
                      address.server(),
                      address.userName(),
                      DatabaseFaults.detail(fault),
                      "in the address, or " + DatabaseSettings.PASSWORD_VARIABLE),
              fault);
      case "08004" ->
          refused(
              "the database server at %s does not let user \"%s\" in (%s); set %s"
                  .formatted(
                      address.server(),
                      address.userName(),
                      DatabaseFaults.detail(fault),
                      DatabaseSettings.PASSWORD_VARIABLE),
              fault);
      case "3D000" ->
          refused(
              "there is no database \"%s\" on the server at %s; create it, or correct the address"
                  .formatted(address.database(), address.server()),
              fault);
      case "08001" -> unreachable(address, fault);
      case "57P03", "53300" ->
          new StoreException(
              "the database server at %s takes no connection now (%s); try again"
                  .formatted(address.server(), DatabaseFaults.detail(fault)),
              fault,
              true);
      default ->
          refused(
              "the server at %s can't be used as a database (%s); check host and port"
                  .formatted(address.server(), DatabaseFaults.detail(fault)),
              fault);
    };
  }

  private static StoreException unreachable(ServerAddress address, SQLException fault) {
    if (fault.getCause() instanceof UnknownHostException) {
      return refused(
          "the database host of %s is not known; correct the address".formatted(address.server()),
          fault);
    }
    String why =
        fault.getCause() == null ? DatabaseFaults.detail(fault) : fault.getCause().getMessage();
    return new StoreException(
        "the database server at %s can't be reached (%s); check the address and that it is running"
            .formatted(address.server(), why),
        fault,
        true);
  }

  private static StoreException refused(String message, SQLException fault) {
    return new StoreException(message, fault, false);
  }
}
