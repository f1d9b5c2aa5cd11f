package soakbench.store.connection;

import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import soakbench.live.StoreException;

/** Turns the driver's exceptions into one clear sentence, and tells whether a retry can help. */
public final class DatabaseFaults {
  public static final String DUPLICATE_KEY = "23505";

  private DatabaseFaults() {}

  /**
   * @param doing what was being done: "writing samples"
   */
  public static StoreException of(String doing, SQLException fault) {
    String state = state(fault);
    String detail = detail(fault);
    if (state.equals("53100")) {
      return waiting(
          "the database's disk is full while " + doing, detail, "free space on it", fault);
    }
    if (fault instanceof SQLTransientConnectionException) {
      return waiting(
          "no connection to the database for " + doing, detail, "check that it is running", fault);
    }
    if (connectionLost(state) || closedByPool(fault)) {
      return waiting(
          "the connection to the database was lost while " + doing,
          detail,
          "check that it is running",
          fault);
    }
    if (isTransient(state)) {
      return waiting("the database could not go on " + doing, detail, "try again", fault);
    }
    return new StoreException(
        "the database refused " + doing + " (" + detail + "); look into the server's log",
        fault,
        false);
  }

  public static String state(SQLException fault) {
    return fault.getSQLState() == null ? "" : fault.getSQLState();
  }

  /** The server's own words, one line. */
  public static String detail(SQLException fault) {
    String text = fault.getMessage() == null ? fault.toString() : fault.getMessage();
    return text.lines().findFirst().orElse("no message").strip();
  }

  private static StoreException waiting(
      String fact, String detail, String advice, SQLException fault) {
    return new StoreException(fact + " (" + detail + "); " + advice, fault, true);
  }

  /** The pool's exception, without a state, for a connection that it closed while it was used. */
  private static boolean closedByPool(SQLException fault) {
    return fault.getSQLState() == null && "Connection is closed".equals(fault.getMessage());
  }

  private static boolean connectionLost(String state) {
    return state.startsWith("08") || state.startsWith("57P");
  }

  /** Serialization and deadlock (40), resources (53), locks (55P03), operator (57), disk (58). */
  private static boolean isTransient(String state) {
    return state.startsWith("40")
        || state.startsWith("53")
        || state.equals("55P03")
        || state.startsWith("57")
        || state.startsWith("58");
  }
}
