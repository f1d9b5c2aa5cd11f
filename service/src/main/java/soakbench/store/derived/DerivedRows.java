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
import soakbench.live.deriving.DerivedShelf;
import soakbench.live.deriving.DueSoak;
import soakbench.live.deriving.DueSoak.Basis;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.Terms;
import soakbench.store.rows.Times;

/**
 * The rows of one kind in table {@code derived}, for the one who derives them. Safe for many
 * threads; all calls throw {@link StoreException} when the database does not answer.
 */
final class DerivedRows<T> implements DerivedShelf<T> {
  private static final String KEEP =
      " ON CONFLICT (kind, soak) DO UPDATE SET version = EXCLUDED.version, basis = EXCLUDED.basis,"
          + " heard = EXCLUDED.heard, waits = EXCLUDED.waits, derived_at = now(),"
          + " content = EXCLUDED.content";

  private static final String COLUMNS =
      "INSERT INTO derived (kind, soak, version, basis, heard, waits, content)";

  /** While the writer has the soak in hand this waits, and then sees what he left. */
  private static final String AS_IT_WAS =
      " AND end_time = ? AND samples = ? AND ended IS NOT NULL FOR SHARE";

  private final DerivedKind kind;
  private final Pools pools;
  private final SoakStore.Look look;
  private final DueNotes notes;
  private final DueSearch search;
  private final JsonColumn<T> column;

  /**
   * @param look reads what they are derived from
   * @param notes of which soaks something changed
   * @param column what a row holds
   */
  DerivedRows(
      DerivedKind kind, Pools pools, SoakStore.Look look, DueNotes notes, JsonColumn<T> column) {
    this.kind = kind;
    this.pools = pools;
    this.look = look;
    this.notes = notes;
    this.search = new DueSearch(pools, notes, kind);
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
  public List<String> due(int version, int most, Set<String> not) {
    return search.find(version, most, not);
  }

  @Override
  public Optional<DueSoak> soak(String soak) {
    Optional<DueSoak> found = pools.request("looking for a soak", c -> find(c, soak));
    if (found.isEmpty()) {
      notes.readable(soak);
    }
    return found;
  }

  private Optional<DueSoak> find(Connection c, String soak) throws SQLException {
    return Query.first(
        c,
        rows -> read(c, rows),
        "SELECT s.*, %s AS told_rates, (%s)::text AS basis, %s AS heard%s WHERE s.id = ?"
                .formatted(DerivedKind.rates(), kind.basis(), kind.heard(), kind.from())
            + (kind.writtenWithTheSoak() ? " AND s.ended IS NOT NULL" : ""),
        soak);
  }

  private DueSoak read(Connection c, ResultSet rows) throws SQLException {
    Soak soak = Soaks.read(rows);
    return new DueSoak(
        soak,
        Soaks.before(c, soak).orElse(null),
        Terms.find(c, soak.id()).orElseThrow(),
        Rates.of(rows.getString("told_rates")).orElseThrow(),
        new Basis(rows.getString("basis"), rows.getString("heard")));
  }

  @Override
  public SoakStore.Look look() {
    return look;
  }

  @Override
  public Optional<T> kept(String soak) {
    String sql = "SELECT content FROM derived WHERE kind = ? AND soak = ?";
    return pools
        .request(
            "reading " + kind.words,
            c -> Query.first(c, rows -> rows.getString(1), sql, kind.word(), soak))
        .flatMap(content -> column.read(soak, content));
  }

  @Override
  public boolean keep(DueSoak due, int version, T derived, boolean waits) {
    boolean kept =
        pools.change("keeping " + kind.words, c -> keep(c, due, version, derived, waits) > 0);
    notes.readable(due.soak().id());
    return kept;
  }

  private int keep(Connection c, DueSoak due, int version, T derived, boolean waits)
      throws SQLException {
    Soak soak = due.soak();
    String sql = COLUMNS + " SELECT ?, id, ?, ?::jsonb, ?, ?, ?::jsonb FROM soak WHERE id = ?";
    List<Object> values = new ArrayList<>();
    values.add(kind.word());
    values.add(version);
    values.add(due.basis().told());
    values.add(due.basis().heard());
    values.add(waits);
    values.add(JsonColumn.text(derived));
    values.add(soak.id());
    if (kind.writtenWithTheSoak()) {
      sql += AS_IT_WAS;
      values.add(Times.time(soak.endUs()));
      values.add(soak.samples());
    }
    return Query.change(c, sql + KEEP, values.toArray());
  }
}
