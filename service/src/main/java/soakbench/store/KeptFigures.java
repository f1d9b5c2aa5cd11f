package soakbench.store;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import soakbench.live.FigureShelf;
import soakbench.live.StoreException;
import soakbench.lots.SoakFigureSet;
import soakbench.lots.UnitSoak;
import soakbench.model.Bin;
import soakbench.model.Soak;

/**
 * Table {@code kept_figures}. Safe for many threads; all calls throw {@link StoreException} when
 * the database does not answer.
 */
public final class KeptFigures implements FigureShelf {
  /** How old the figures of a soak that goes on may get, s. */
  private static final int OPEN_EVERY_S = 60;

  private static final long US_PER_S = 1_000_000L;

  private static final String DUE =
      DueSoaks.due(
          DueSoaks.select("kept_figures", ""),
          "k.derived_at < now() - make_interval(secs => ?)",
          "");

  private static final String KEEP =
      "INSERT INTO kept_figures (soak, end_time, samples, ended, rates, version, figures)"
          + " VALUES (?, ?, ?, ?, ?, ?, ?::jsonb) ON CONFLICT (soak) DO UPDATE SET"
          + " end_time = EXCLUDED.end_time, samples = EXCLUDED.samples, ended = EXCLUDED.ended,"
          + " rates = EXCLUDED.rates, version = EXCLUDED.version, derived_at = now(),"
          + " figures = EXCLUDED.figures";

  private static final String KEPT =
      "SELECT s.id, s.tracker, s.start_time, s.end_time, s.samples, s.ended, k.figures"
          + " FROM kept_figures k JOIN soak s ON s.id = k.soak"
          + " WHERE (?::text IS NULL OR s.tracker = ?)"
          + " AND (?::text IS NULL OR s.tracker IN (SELECT id FROM tracker WHERE lot = ?))"
          + " ORDER BY s.tracker, s.start_time DESC";

  private final Pools pools;

  KeptFigures(Pools pools) {
    this.pools = pools;
  }

  @Override
  public List<Due> due(int version, int most) {
    return pools.request(
        "looking for figures that are out of date",
        c -> Query.list(c, KeptFigures::readDue, DUE, version, OPEN_EVERY_S, most));
  }

  @Override
  public List<Bin> bins(Soak soak) {
    long from = Math.floorDiv(soak.startUs(), US_PER_S);
    long to = Math.floorDiv(soak.endUs(), US_PER_S) + 1;
    return pools.export("reading bins", c -> Series.bins(c, soak.tracker(), from, to));
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
                JsonColumn.text(figures)));
  }

  /**
   * Kept figures with their soaks, by tracker, the newest soak first.
   *
   * @param tracker only this one's; null for all
   * @param lot only trackers of this lot; null for all
   */
  public List<UnitSoak> kept(String tracker, String lot) {
    return pools.request(
        "reading figures",
        c -> Query.list(c, KeptFigures::readKept, KEPT, tracker, tracker, lot, lot));
  }

  private static Due readDue(ResultSet rows) throws SQLException {
    return new Due(DueSoaks.soak(rows), DueSoaks.limits(rows), DueSoaks.rates(rows));
  }

  private static UnitSoak readKept(ResultSet rows) throws SQLException {
    Soak soak = Soaks.read(rows);
    String what = "kept figures of " + soak.id();
    return new UnitSoak(soak, JsonColumn.read(rows.getString(7), SoakFigureSet.class, what));
  }
}
