package soakbench.store.derived;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Locale;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.store.rows.LimitsColumn;
import soakbench.store.rows.Soaks;

/**
 * What is derived of a soak is kept in a row beside it that says of which state of the soak it is:
 * its end, how many samples, whether it ended, what was said of its rates, and which version of the
 * program derived it. Where the soak says otherwise, or there is no row, it is due.
 */
public final class DueSoaks {
  private static final String RATES = "coalesce(r.rates, 'unknown')";

  /** More or less of it was heard than when it was derived. */
  static final String GREW = "(k.end_time, k.samples) <> (s.end_time, s.samples)";

  private DueSoaks() {}

  /**
   * Soaks with what they are derived with. Soak, terms, tracker and kept row are {@code s}, {@code
   * t}, {@code r} and {@code k}.
   *
   * @param table where it is kept
   */
  static String from(String table) {
    return " FROM soak s JOIN soak_terms t ON t.soak = s.id"
        + " LEFT JOIN tracker r ON r.id = s.tracker"
        + (" LEFT JOIN " + table + " k ON k.soak = s.id");
  }

  /**
   * Selects a soak by its id, as {@link #soak}, {@link #limits} and {@link #rates} read it.
   *
   * @param more further columns, from the ninth on; each begins with a comma
   */
  static String select(String table, String more) {
    return "SELECT s.id, s.tracker, s.start_time, s.end_time, s.samples, s.ended, t.limits, "
        + (RATES + more + ", s.samples_kept" + from(table) + " WHERE s.id = ?");
  }

  /**
   * What makes a soak due. Takes the version, then what the conditions take.
   *
   * @param whileOpen when more samples make a soak due that goes on
   * @param more what else makes one due; begins with OR
   */
  static String due(String whileOpen, String more) {
    return "k.soak IS NULL OR k.version <> ?"
        + (" OR k.rates <> " + RATES + " OR k.ended <> (s.ended IS NOT NULL)")
        + (" OR (" + GREW + " AND (s.ended IS NOT NULL OR " + whileOpen + "))")
        + more;
  }

  /**
   * The tracker's soak before, in the state that it has: its id, end and samples.
   *
   * @param only a condition of it, {@code p}, where others do not matter
   */
  public static String before(String only) {
    return "(SELECT CASE WHEN "
        + only
        + " THEN concat_ws(' ', p.id, extract(epoch FROM p.end_time), p.samples) END FROM soak p"
        + " WHERE p.tracker = s.tracker AND p.start_time < s.start_time"
        + " ORDER BY p.start_time DESC LIMIT 1)";
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
