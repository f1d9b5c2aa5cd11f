package soakbench.store.derived;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;
import soakbench.live.SoakStore;
import soakbench.live.StoreException;
import soakbench.live.deriving.DerivedStore;
import soakbench.readiness.Calibration;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;

/**
 * Reads the calibrations of table {@code derived}, one by one; those that can't be read are left
 * out, and derived anew. Thread-safe; all calls throw {@link StoreException} when the database does
 * not answer.
 */
public final class DerivedCalibrations {
  private static final String ONE_BY_ONE =
      " s.id, m.one FROM derived k JOIN soak s ON k.kind = 'calibrations' AND s.id = k.soak CROSS"
          + " JOIN jsonb_array_elements(CASE jsonb_typeof(k.content) WHEN 'array' THEN k.content"
          + " ELSE jsonb_build_array(k.content) END) AS m(one)";

  /** One that can't be read goes first, so that it is noticed. */
  private static final String NEWEST_FIRST =
      " CASE jsonb_typeof(m.one->'atUs') WHEN 'number' THEN (m.one->>'atUs')::numeric END"
          + " DESC NULLS FIRST, s.id DESC";

  private static final String COUNTS = "coalesce(m.one->>'status', '') <> 'UNDONE'";

  private static final String OF = "SELECT" + ONE_BY_ONE + " WHERE s.tracker = ? ORDER BY";

  /** What counts goes before what was undone, however old it is. */
  private static final String NEWEST =
      ("SELECT DISTINCT ON (s.tracker)" + ONE_BY_ONE + " WHERE (? OR " + COUNTS + ")")
          + (" ORDER BY s.tracker, " + COUNTS + " DESC,");

  private static final String ALL =
      "SELECT" + ONE_BY_ONE + " WHERE (? OR " + COUNTS + ") ORDER BY s.tracker,";

  private static final String NEWEST_CHECKED =
      ("SELECT DISTINCT ON (s.tracker)" + ONE_BY_ONE + " WHERE m.one->'check' <> 'null'::jsonb")
          + " ORDER BY s.tracker,";

  private final Pools pools;
  private final JsonColumn<Calibration> column;

  public DerivedCalibrations(Pools pools, DirtySoaks dirty) {
    this.pools = pools;
    this.column = new JsonColumn<>(Calibration.class, DerivedKind.CALIBRATIONS.words, dirty);
  }

  /** For what derives them. */
  public static DerivedStore<List<Calibration>> store(
      Pools pools, SoakStore.Reader reader, DirtySoaks dirty) {
    String words = DerivedKind.CALIBRATIONS.words;
    JsonColumn<List<Calibration>> column = JsonColumn.ofLists(Calibration.class, words, dirty);
    return new DerivedRows<>(DerivedKind.CALIBRATIONS, pools, reader, dirty, column);
  }

  /** All of a tracker's calibrations, undone ones too, the newest first. */
  public List<Calibration> of(String tracker) {
    return list(OF + NEWEST_FIRST, tracker);
  }

  /**
   * The newest calibration or question of every tracker, by tracker.
   *
   * @param undone whether those that have none have their newest undone calibration in its place
   */
  public List<Calibration> newest(boolean undone) {
    return list(NEWEST + NEWEST_FIRST, undone);
  }

  /**
   * Every calibration or question of every tracker, by tracker, the newest first.
   *
   * @param undone undone ones too
   */
  public List<Calibration> all(boolean undone) {
    return list(ALL + NEWEST_FIRST, undone);
  }

  /** The newest calibration of every tracker that has a check, by tracker. */
  public Map<String, Calibration> newestChecked() {
    return list(NEWEST_CHECKED + NEWEST_FIRST).stream()
        .collect(Collectors.toMap(Calibration::tracker, c -> c));
  }

  private List<Calibration> list(String sql, Object... values) {
    return pools
        .request("reading calibrations", c -> Query.list(c, this::read, sql, values))
        .stream()
        .flatMap(Optional::stream)
        .toList();
  }

  private Optional<Calibration> read(ResultSet rows) throws SQLException {
    return column.read(rows.getString(1), rows.getString(2));
  }
}
