package soakbench.store.derived;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import soakbench.live.SoakStore;
import soakbench.live.StoreException;
import soakbench.live.deriving.DerivedStore;
import soakbench.lots.SoakFigures;
import soakbench.lots.UnitSoak;
import soakbench.model.Soak;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.LeftOut;
import soakbench.store.rows.Soaks;

/**
 * Reads the figures in table {@code derived}; those that can't be read are left out, and derived
 * anew. Thread-safe; all calls throw {@link StoreException} when the database does not answer.
 */
public final class DerivedFigures {
  private static final String OF =
      "SELECT s.*, k.content, "
          + LeftOut.reason("s")
          + " AS left_out FROM derived k JOIN soak s ON s.id = k.soak"
          + " WHERE k.kind = 'figures' AND s.tracker = ? ORDER BY s.start_time DESC";

  private final Pools pools;
  private final JsonColumn<SoakFigures> column;

  public DerivedFigures(Pools pools, DirtySoaks dirty) {
    this.pools = pools;
    this.column = column(dirty);
  }

  /** For what derives them. */
  public static DerivedStore<SoakFigures> store(
      Pools pools, SoakStore.Reader reader, DirtySoaks dirty) {
    return new DerivedRows<>(DerivedKind.FIGURES, pools, reader, dirty, column(dirty));
  }

  static JsonColumn<SoakFigures> column(DirtySoaks dirty) {
    return new JsonColumn<>(
        SoakFigures.class, DerivedKind.FIGURES.words, dirty, OlderFigures::complete);
  }

  /** A tracker's soaks with their figures, the newest first. */
  public List<UnitSoak> of(String tracker) {
    return pools.request("reading figures", c -> Query.list(c, this::read, OF, tracker)).stream()
        .flatMap(Optional::stream)
        .toList();
  }

  private Optional<UnitSoak> read(ResultSet rows) throws SQLException {
    Soak soak = Soaks.read(rows);
    String leftOut = rows.getString("left_out");
    return column
        .read(soak.id(), rows.getString("content"))
        .map(f -> new UnitSoak(soak, f, leftOut));
  }
}
