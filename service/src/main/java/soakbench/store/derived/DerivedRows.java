package soakbench.store.derived;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import soakbench.live.SoakStore;
import soakbench.live.StoreException;
import soakbench.live.deriving.DerivationInput;
import soakbench.live.deriving.DerivationInput.Basis;
import soakbench.live.deriving.DerivedStore;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.LeftOut;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.SqlTimes;
import soakbench.store.rows.Terms;

/**
 * The rows of one kind in table {@code derived}, for what derives them. Thread-safe; all calls
 * throw {@link StoreException} when the database does not answer.
 */
final class DerivedRows<T> implements DerivedStore<T> {
  private static final String KEEP =
      " ON CONFLICT (kind, soak) DO UPDATE SET version = EXCLUDED.version, basis = EXCLUDED.basis,"
          + " heard = EXCLUDED.heard, waits = EXCLUDED.waits, derived_at = now(),"
          + " content = EXCLUDED.content";

  private static final String COLUMNS =
      "INSERT INTO derived (kind, soak, version, basis, heard, waits, content)";

  /** A statement sees the row as it was before. */
  private static final String CHANGED =
      " RETURNING content IS DISTINCT FROM"
          + " (SELECT was.content FROM derived was WHERE was.kind = ? AND was.soak = ?)";

  /** Waits while the writer's unit of work changes the soak, and then sees what was committed. */
  private static final String AS_IT_WAS =
      " AND end_time = ? AND samples = ? AND ended IS NOT NULL FOR SHARE";

  private final DerivedKind kind;
  private final Pools pools;
  private final SoakStore.Reader reader;
  private final DirtySoaks dirty;
  private final OutdatedSearch search;
  private final JsonColumn<T> column;

  /**
   * @param reader reads what they are derived from
   * @param dirty which soaks changed
   * @param column what a row holds
   */
  DerivedRows(
      DerivedKind kind,
      Pools pools,
      SoakStore.Reader reader,
      DirtySoaks dirty,
      JsonColumn<T> column) {
    this.kind = kind;
    this.pools = pools;
    this.reader = reader;
    this.dirty = dirty;
    this.search = new OutdatedSearch(pools, dirty, kind);
    this.column = column;
  }

  /**
   * Writes a row with its soak, in the writer's unit of work: of a kind that rests on nothing else.
   */
  static int write(Connection c, DerivedKind kind, String soak, int version, Object derived)
      throws SQLException {
    return Query.change(
        c,
        COLUMNS + " VALUES (?, ?, ?, '{}', '', false, ?::jsonb)" + KEEP,
        kind.word(),
        soak,
        version,
        JsonColumn.text(derived));
  }

  @Override
  public List<String> outdated(int version, int most, Set<String> not) {
    return search.find(version, most, not);
  }

  @Override
  public Optional<DerivationInput> input(String soak) {
    Optional<DerivationInput> found = pools.request("looking for a soak", c -> input(c, soak));
    if (found.isEmpty()) {
      dirty.readable(soak);
    }
    return found;
  }

  private Optional<DerivationInput> input(Connection c, String soak) throws SQLException {
    return Query.first(
        c,
        rows -> read(c, rows),
        "SELECT s.*, %s AS told_rates, (%s)::text AS basis, %s AS heard%s WHERE s.id = ?"
                .formatted(DerivedKind.rates(), kind.basis(), kind.heard(), kind.from())
            + (kind.writtenWithTheSoak() ? " AND s.ended IS NOT NULL" : ""),
        soak);
  }

  private DerivationInput read(Connection c, ResultSet rows) throws SQLException {
    Soak soak = Soaks.read(rows);
    return new DerivationInput(
        soak,
        before(c, soak),
        Terms.find(c, soak.id()).orElseThrow(),
        Rates.of(rows.getString("told_rates")).orElseThrow(),
        new Basis(rows.getString("basis"), rows.getString("heard")));
  }

  private Soak before(Connection c, Soak soak) throws SQLException {
    Soak before = Soaks.before(c, soak).orElse(null);
    boolean unused = before != null && kind.usesFiguresBefore() && LeftOut.has(c, before);
    return unused ? null : before;
  }

  @Override
  public SoakStore.Reader reader() {
    return reader;
  }

  @Override
  public Optional<T> find(String soak) {
    String sql = "SELECT content FROM derived WHERE kind = ? AND soak = ?";
    return pools
        .request(
            "reading " + kind.words,
            c -> Query.first(c, rows -> rows.getString(1), sql, kind.word(), soak))
        .flatMap(content -> column.read(soak, content));
  }

  @Override
  public boolean put(DerivationInput input, int version, T derived, boolean waits) {
    boolean done =
        pools.derive(
            "keeping " + kind.words,
            c -> {
              Optional<Boolean> changed = put(c, input, version, derived, waits);
              if (kind.heldInMemory() && changed.orElse(false)) {
                pools.announcements().announce(c, true, List.of());
              }
              return changed.isPresent();
            });
    dirty.readable(input.soak().id());
    return done;
  }

  /** Returns whether its content is another one now; empty where it was not written. */
  private Optional<Boolean> put(
      Connection c, DerivationInput input, int version, T derived, boolean waits)
      throws SQLException {
    Soak soak = input.soak();
    String sql = COLUMNS + " SELECT ?, id, ?, ?::jsonb, ?, ?, ?::jsonb FROM soak WHERE id = ?";
    List<Object> values = new ArrayList<>();
    values.add(kind.word());
    values.add(version);
    values.add(input.basis().state());
    values.add(input.basis().heard());
    values.add(waits);
    values.add(JsonColumn.text(derived));
    values.add(soak.id());
    if (kind.writtenWithTheSoak()) {
      sql += AS_IT_WAS;
      values.add(SqlTimes.time(soak.endUs()));
      values.add(soak.samples());
    }
    values.add(kind.word());
    values.add(soak.id());
    return Query.first(c, rows -> rows.getBoolean(1), sql + KEEP + CHANGED, values.toArray());
  }
}
