package soakbench.store.chunks;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.function.BooleanSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.store.connection.DatabaseFaults;
import soakbench.store.connection.Query;
import soakbench.store.connection.Retries;
import soakbench.store.server.ServerAddress;

/**
 * The turn to work on chunks, which one of the services that write side by side has at a time: two
 * that move rows would leave those who write no rest. A lock on a connection of its own, so that
 * another goes on where the program is gone.
 */
final class ChunkTurn implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(ChunkTurn.class);
  private static final String TAKE = "SELECT pg_try_advisory_lock(x'50ab'::int, 5)";
  private static final int ANSWER_S = 10;
  private static final long POLL_MS = 1_000;

  private final Connection connection;

  private ChunkTurn(Connection connection) {
    this.connection = connection;
  }

  /**
   * Waits until it has it.
   *
   * @param stops whether to end before that; then it has it not
   */
  static ChunkTurn await(ServerAddress address, BooleanSupplier stops) {
    boolean told = false;
    while (!stops.getAsBoolean()) {
      try {
        Connection taken = take(address);
        if (taken != null) {
          return new ChunkTurn(taken);
        }
        if (!told) {
          LOG.info("another service works on the chunks; this one waits for it");
        }
        told = true;
      } catch (SQLException e) {
        LOG.debug("asking for the turn to work on chunks: {}", DatabaseFaults.detail(e));
      }
      if (!Retries.slept(POLL_MS)) {
        break;
      }
    }
    return new ChunkTurn(null);
  }

  private static Connection take(ServerAddress address) throws SQLException {
    Connection connection = address.dataSource(ANSWER_S).getConnection();
    boolean taken = false;
    try {
      taken = Query.list(connection, rows -> rows.getBoolean(1), TAKE).get(0);
      return taken ? connection : null;
    } finally {
      if (!taken) {
        connection.close();
      }
    }
  }

  /** Whether it still has it: the server may have been restarted. */
  boolean isHeld() {
    try {
      return connection != null && connection.isValid(ANSWER_S);
    } catch (SQLException e) {
      throw new IllegalArgumentException("a negative time", e);
    }
  }

  @Override
  public void close() {
    try {
      if (connection != null) {
        connection.close();
      }
    } catch (SQLException e) {
      LOG.debug("giving the turn to work on chunks back", e);
    }
  }
}
