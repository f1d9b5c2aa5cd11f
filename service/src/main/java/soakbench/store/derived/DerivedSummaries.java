package soakbench.store.derived;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.live.deriving.DerivedStore;
import soakbench.live.figures.SummaryDeriver;
import soakbench.model.Soak;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.LeftOut;
import soakbench.store.rows.Soaks;

/** The summaries of soaks in table {@code derived}, in a unit of work. */
public final class DerivedSummaries {
  private static final String NEWEST =
      "SELECT * FROM (SELECT s.*, k.content, row_number() OVER"
          + " (PARTITION BY s.tracker ORDER BY s.end_time DESC, s.id DESC) AS nth"
          + " FROM derived k JOIN soak s ON s.id = k.soak WHERE k.kind = 'summary' AND "
          + LeftOut.reason("s")
          + " IS NULL) newest"
          + " WHERE nth <= ? ORDER BY id";

  private DerivedSummaries() {}

  /** For what derives them anew. */
  public static DerivedStore<SoakSummary.Thermal> store(
      Pools pools, SoakStore.Reader reader, DirtySoaks dirty) {
    return new DerivedRows<>(DerivedKind.SUMMARY, pools, reader, dirty, column(dirty));
  }

  private static JsonColumn<SoakSummary.Thermal> column(DirtySoaks dirty) {
    return new JsonColumn<>(SoakSummary.Thermal.class, DerivedKind.SUMMARY.words, dirty);
  }

  public static int write(Connection connection, SoakSummary summary) throws SQLException {
    return DerivedRows.write(
        connection, DerivedKind.SUMMARY, summary.soak(), SummaryDeriver.VERSION, summary.thermal());
  }

  /** Those of soaks that count and can be read; those that can't be are marked dirty. */
  public static List<SoakSummary> newest(Connection connection, int most, DirtySoaks dirty)
      throws SQLException {
    JsonColumn<SoakSummary.Thermal> column = column(dirty);
    return Query.list(connection, rows -> read(rows, column), NEWEST, most).stream()
        .flatMap(Optional::stream)
        .toList();
  }

  private static Optional<SoakSummary> read(ResultSet rows, JsonColumn<SoakSummary.Thermal> column)
      throws SQLException {
    Soak soak = Soaks.read(rows);
    return column.read(soak.id(), rows.getString("content")).map(s -> SoakSummary.of(soak, s));
  }
}
