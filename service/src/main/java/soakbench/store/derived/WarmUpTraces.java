package soakbench.store.derived;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import soakbench.live.StoreException;
import soakbench.lots.WarmUpTrace;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.LeftOut;

/**
 * How trackers warmed up, a few temperatures of each. Each is looked up by the key of its bins:
 * going through all bins of a lot takes seconds. Thread-safe; throws {@link StoreException} when
 * the database does not answer.
 */
public final class WarmUpTraces {
  /** Over so many seconds a temperature is averaged: less than a step, more than a gap. */
  private static final int AVERAGED_S = 10;

  private static final String NEWEST =
      "SELECT DISTINCT ON (s.tracker) s.tracker, s.id, s.start_time, s.end_time,"
          + " (k.content->'plateauC'->>'value')::float8 AS plateau_c"
          + " FROM derived k JOIN soak s ON k.kind = 'figures' AND s.id = k.soak"
          + " WHERE s.tracker = ANY(?) AND k.content->'plateauC'->>'value' IS NOT NULL AND "
          + LeftOut.reason("s")
          + " IS NULL ORDER BY s.tracker, s.start_time DESC";

  private static final String TRACES =
      "SELECT n.tracker, n.id, n.plateau_c, b.c FROM ("
          + NEWEST
          + ") n CROSS JOIN generate_series(0, ?) step CROSS JOIN LATERAL"
          + " (SELECT avg(temperature_mean_c) AS c FROM bin WHERE bin.tracker = n.tracker"
          + " AND time >= n.start_time + step * ? * interval '1 second'"
          + " AND time < n.start_time + (step * ? + "
          + AVERAGED_S
          + ") * interval '1 second' AND time <= n.end_time) b ORDER BY n.tracker, step";

  private final Pools pools;

  public WarmUpTraces(Pools pools) {
    this.pools = pools;
  }

  private record Point(String tracker, String soak, double plateauC, Double temperatureC) {
    static Point of(ResultSet rows) throws SQLException {
      double c = rows.getDouble(4);
      boolean none = rows.wasNull();
      return new Point(rows.getString(1), rows.getString(2), rows.getDouble(3), none ? null : c);
    }
  }

  /**
   * Of each tracker its newest soak that counts and shows a plateau; one that has none is left out.
   *
   * @param trackers their ids
   * @param stepS seconds between two temperatures
   * @param count how many temperatures
   */
  public Map<String, WarmUpTrace> of(List<String> trackers, int stepS, int count) {
    Map<String, WarmUpTrace> traces = new LinkedHashMap<>();
    pools.request(
        "reading how trackers warmed up",
        c -> {
          Object ids = c.createArrayOf("text", trackers.toArray());
          Query.each(c, Point::of, p -> add(traces, p), TRACES, ids, count - 1, stepS, stepS);
          return null;
        });
    return traces;
  }

  private static void add(Map<String, WarmUpTrace> traces, Point p) {
    traces
        .computeIfAbsent(p.tracker, t -> new WarmUpTrace(p.soak, p.plateauC, new ArrayList<>()))
        .temperaturesC()
        .add(p.temperatureC);
  }
}
