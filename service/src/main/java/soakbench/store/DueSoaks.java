package soakbench.store;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Locale;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;

/**
 * What is derived of a soak is kept in a row beside it that says of which state of the soak it is:
 * its end, how many samples, whether it ended, what was said of its rates, and which version of the
 * program derived it. Where the soak says otherwise, or there is no row, it is due.
 */
final class DueSoaks {
  private static final String RATES = "coalesce(r.rates, 'unknown')";

  private DueSoaks() {}

  /**
   * Selects soaks with what they are derived with, as {@link #soak}, {@link #limits} and {@link
   * #rates} read them. Soak, terms, tracker and kept row are {@code s}, {@code t}, {@code r} and
   * {@code k}.
   *
   * @param table where it is kept
   * @param more further columns, from the ninth on; each begins with a comma
   */
  static String select(String table, String more) {
    return "SELECT s.id, s.tracker, s.start_time, s.end_time, s.samples, s.ended, t.limits, "
        + RATES
        + more
        + ", s.samples_kept FROM soak s JOIN soak_terms t ON t.soak = s.id"
        + " LEFT JOIN tracker r ON r.id = s.tracker"
        + (" LEFT JOIN " + table + " k ON k.soak = s.id");
  }

  /**
   * Those that are due, the newest first. Takes the version, then what the conditions take, then
   * how many at most.
   *
   * @param select by {@link #select}
   * @param whileOpen when more samples make a soak due that goes on
   * @param more what else makes one due; begins with OR, or is empty
   */
  static String due(String select, String whileOpen, String more) {
    return select
        + " WHERE k.soak IS NULL OR k.version <> ?"
        + (" OR k.rates <> " + RATES + " OR k.ended <> (s.ended IS NOT NULL)")
        + " OR ((k.end_time, k.samples) <> (s.end_time, s.samples)"
        + (" AND (s.ended IS NOT NULL OR " + whileOpen + "))")
        + more
        + " ORDER BY s.end_time DESC, s.id LIMIT ?";
  }

  static Soak soak(ResultSet rows) throws SQLException {
    return Soaks.read(rows);
  }

  static Limits limits(ResultSet rows) throws SQLException {
    return LimitsColumn.limits(rows.getString(7));
  }

  static Rates rates(ResultSet rows) throws SQLException {
    return Rates.valueOf(rows.getString(8).toUpperCase(Locale.ROOT));
  }
}
