package soakbench.store.derived;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import soakbench.live.StoreException;
import soakbench.live.figures.FigureShelf;
import soakbench.lots.SoakFigureSet;
import soakbench.lots.UnitSoak;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.Series;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.Times;

/**
 * Table {@code kept_figures}. Safe for many threads; all calls throw {@link StoreException} when
 * the database does not answer.
 */
public final class StoredFigures implements FigureShelf {
  /** How old the figures of a soak that goes on may get, s. */
  private static final int OPEN_EVERY_S = 60;

  private static final String BEFORE = DueSoaks.before("true");

  private static final String SOAK = DueSoaks.select("kept_figures", ", " + BEFORE);

  private static final String DUE =
      DueSoaks.due(
          "k.derived_at < now() - make_interval(secs => ?)",
          " OR k.before_state IS DISTINCT FROM " + BEFORE);

  private static final String KEEP =
      "INSERT INTO kept_figures (soak, end_time, samples, ended, rates, version, before_state,"
          + " figures) VALUES (?, ?, ?, ?, ?, ?, ?, ?::jsonb) ON CONFLICT (soak) DO UPDATE SET"
          + " end_time = EXCLUDED.end_time, samples = EXCLUDED.samples, ended = EXCLUDED.ended,"
          + " rates = EXCLUDED.rates, version = EXCLUDED.version, derived_at = now(), before_state"
          + " = EXCLUDED.before_state, figures = EXCLUDED.figures";

  private static final String KEPT =
      "SELECT s.id, s.tracker, s.start_time, s.end_time, s.samples, s.ended, k.figures,"
          + " s.samples_kept"
          + " FROM kept_figures k JOIN soak s ON s.id = k.soak"
          + " WHERE (?::text IS NULL OR s.tracker = ?)"
          + " AND (?::text IS NULL OR s.tracker IN (SELECT id FROM tracker WHERE lot = ?))"
          + " ORDER BY s.tracker, s.start_time DESC";

  private final Pools pools;
  private final DueNotes notes;
  private final DueSearch search;
  private final JsonColumn<SoakFigureSet> column;

  public StoredFigures(Pools pools, DueNotes notes) {
    this.pools = pools;
    this.notes = notes;
    this.column = new JsonColumn<>(SoakFigureSet.class, "kept figures", notes);
    this.search =
        new DueSearch(
            pools,
            notes,
            "looking for figures that are out of date",
            "kept_figures",
            DUE,
            DueSoaks.GREW);
  }

  @Override
  public List<String> due(int version, int most, Set<String> not) {
    return search.find(most, not, version, OPEN_EVERY_S);
  }

  @Override
  public Optional<Due> soak(String soak) {
    Optional<Due> found =
        pools.request(
            "looking for a soak",
            c -> Query.list(c, StoredFigures::readDue, SOAK, soak).stream().findFirst());
    if (found.isEmpty()) {
      notes.readable(soak);
    }
    return found;
  }

  @Override
  public List<Bin> bins(Soak soak) {
    return pools.export("reading bins", c -> Series.ofSoak(c, soak));
  }

  @Override
  public Optional<Soak> before(Soak soak) {
    return pools.request("looking for the soak before", c -> Soaks.before(c, soak));
  }

  @Override
  public void keep(Due due, int version, SoakFigureSet figures) {
    Soak soak = due.soak();
    pools.change(
        "keeping figures",
        c ->
            Query.change(
                c,
                KEEP,
                soak.id(),
                Times.time(soak.endUs()),
                soak.samples(),
                !soak.open(),
                due.rates().name().toLowerCase(Locale.ROOT),
                version,
                due.before(),
                JsonColumn.text(figures)));
    notes.readable(soak.id());
  }

  /**
   * Kept figures with their soaks, by tracker, the newest soak first. Those that can't be read are
   * left out, and derived anew.
   *
   * @param tracker only this one's; null for all
   * @param lot only trackers of this lot; null for all
   */
  public List<UnitSoak> kept(String tracker, String lot) {
    return pools
        .request(
            "reading figures", c -> Query.list(c, this::readKept, KEPT, tracker, tracker, lot, lot))
        .stream()
        .flatMap(Optional::stream)
        .toList();
  }

  private static Due readDue(ResultSet rows) throws SQLException {
    return new Due(
        DueSoaks.soak(rows), DueSoaks.limits(rows), DueSoaks.rates(rows), rows.getString(9));
  }

  private Optional<UnitSoak> readKept(ResultSet rows) throws SQLException {
    Soak soak = Soaks.read(rows);
    return column.read(soak.id(), rows.getString(7)).map(f -> new UnitSoak(soak, f));
  }
}
