package soakbench.store;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import soakbench.live.StoreException;
import soakbench.lots.compare.ScreeningLimit;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;

/**
 * Table {@code screening_limit}: by what people screen units. Thread-safe; all calls throw {@link
 * StoreException} when the database does not answer.
 */
public final class ScreeningLimits {
  private static final String ALL =
      "SELECT metric, look_again_over, reject_over FROM screening_limit ORDER BY metric";

  private static final String ADD =
      "INSERT INTO screening_limit (metric, look_again_over, reject_over) VALUES (?, ?, ?)";

  private final Pools pools;

  ScreeningLimits(Pools pools) {
    this.pools = pools;
  }

  /** All that are set, by figure. */
  public List<ScreeningLimit> all() {
    return pools.request(
        "reading limits for screening", c -> Query.list(c, ScreeningLimits::read, ALL));
  }

  private static ScreeningLimit read(ResultSet rows) throws SQLException {
    return new ScreeningLimit(
        rows.getString(1), rows.getObject(2, Double.class), rows.getObject(3, Double.class));
  }

  /**
   * Puts these in place of all that were set.
   *
   * @param limits each figure at most once
   */
  public void replace(List<ScreeningLimit> limits) {
    pools.write("writing limits for screening", c -> replace(c, limits));
  }

  private static int replace(Connection c, List<ScreeningLimit> limits) throws SQLException {
    int changed = Query.change(c, "DELETE FROM screening_limit");
    for (ScreeningLimit limit : limits) {
      changed += Query.change(c, ADD, limit.metric(), limit.lookAgainOver(), limit.rejectOver());
    }
    return changed;
  }
}
