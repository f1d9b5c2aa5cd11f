package soakbench.store.derived;

import java.util.HashMap;
import java.util.Map;
import soakbench.live.StoreException;
import soakbench.live.calibration.CalibrationReports;
import soakbench.model.Soak;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.SqlTimes;

/**
 * Table {@code calibration_said}: the only thing of calibrations that is not derived. Thread-safe;
 * all calls throw {@link StoreException} when the database does not answer.
 */
public final class CalibrationReportRows implements CalibrationReports {
  private static final long US_PER_S = 1_000_000L;

  private final Pools pools;

  public CalibrationReportRows(Pools pools) {
    this.pools = pools;
  }

  @Override
  public void report(String tracker, long atUs, boolean was) {
    String sql = Query.upsert("calibration_said", "tracker, at", "was");
    pools.change(
        "keeping what was said of a calibration",
        c -> Query.change(c, sql, tracker, SqlTimes.time(atUs), was));
  }

  @Override
  public void withdraw(String tracker, long atUs) {
    String sql = "DELETE FROM calibration_said WHERE tracker = ? AND at = ?";
    pools.change(
        "forgetting what was said of a calibration",
        c -> Query.change(c, sql, tracker, SqlTimes.time(atUs)));
  }

  @Override
  public Map<Long, Boolean> of(Soak soak) {
    Map<Long, Boolean> reports = new HashMap<>();
    String sql =
        "SELECT at, was FROM calibration_said WHERE tracker = ? AND at >= ? AND at <= ?"
            + " ORDER BY at";
    pools
        .request(
            "reading what was said of calibrations",
            c ->
                Query.list(
                    c,
                    rows -> Map.entry(SqlTimes.us(rows, 1) / US_PER_S, rows.getBoolean(2)),
                    sql,
                    soak.tracker(),
                    SqlTimes.time(soak.startUs() - US_PER_S),
                    SqlTimes.time(soak.endUs() + 2 * US_PER_S)))
        .forEach(row -> reports.put(row.getKey(), row.getValue()));
    return reports;
  }
}
