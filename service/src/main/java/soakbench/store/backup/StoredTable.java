package soakbench.store.backup;

import java.sql.Array;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.Comparator;
import java.util.List;
import java.util.stream.Collectors;
import soakbench.store.connection.Query;

/**
 * A table as it stands in a database.
 *
 * @param columns in their order
 * @param counters those of the columns that the database counts up
 * @param sizeBytes about what it takes on the disk, without indexes
 */
record StoredTable(String name, List<String> columns, List<String> counters, long sizeBytes) {
  /**
   * Every table that a release had, each after those that its rows point to, the largest last. What
   * else lies in the database is not ours. A test holds that none is missing. Kept judges are left
   * out: they follow from the bins.
   */
  static final List<String> NAMES =
      List.of(
          "tracker",
          "limits_history",
          "screening_limit",
          "import",
          "import_file",
          "import_part",
          "import_roster",
          "tracker_merge",
          "soak",
          "soak_terms",
          "soak_left_out",
          "soak_figures",
          "kept_figures",
          "kept_calibrations",
          "calibration_said",
          "timeline",
          "stale",
          "derived",
          "sample_aside",
          "sample_removal",
          "bin",
          "sample");

  private static final String FIND =
      """
      SELECT t.relname,
             array_agg(a.attname::text ORDER BY a.attnum),
             coalesce(array_agg(a.attname::text ORDER BY a.attnum) FILTER (WHERE a.attidentity <> ''),
                      ARRAY[]::text[]),
             (SELECT coalesce(sum(pg_table_size(part)), 0)
              FROM (SELECT t.oid UNION ALL SELECT inhrelid FROM pg_inherits WHERE inhparent = t.oid)
                AS parts (part))
      FROM pg_class t JOIN pg_attribute a ON a.attrelid = t.oid
      WHERE t.relnamespace = current_schema()::regnamespace AND t.relkind IN ('r', 'p')
        AND t.relname = ANY (string_to_array(?, ',')) AND a.attnum > 0 AND NOT a.attisdropped
      GROUP BY t.oid, t.relname
      """;

  /** Ours in this database, in the order of {@link #NAMES}. */
  static List<StoredTable> of(Connection connection) throws SQLException {
    return Query.list(connection, StoredTable::read, FIND, String.join(",", NAMES)).stream()
        .sorted(Comparator.comparingInt(t -> NAMES.indexOf(t.name())))
        .toList();
  }

  private static StoredTable read(ResultSet rows) throws SQLException {
    return new StoredTable(
        rows.getString(1), names(rows.getArray(2)), names(rows.getArray(3)), rows.getLong(4));
  }

  private static List<String> names(Array array) throws SQLException {
    return List.of((String[]) array.getArray());
  }

  /** Its name for a statement. */
  String quoted() {
    return quoted(name);
  }

  /** Its columns for a statement, comma-separated. */
  String quotedColumns() {
    return columns.stream().map(StoredTable::quoted).collect(Collectors.joining(", "));
  }

  private static String quoted(String name) {
    return '"' + name.replace("\"", "\"\"") + '"';
  }
}
