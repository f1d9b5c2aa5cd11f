package soakbench.store.connection;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.Optional;
import java.util.stream.Collectors;

/**
 * What of TimescaleDB is in use.
 *
 * @param hypertables whether samples and bins are hypertables
 * @param compression whether their old chunks are compressed
 * @param minuteMeans whether minutes are put together from bins
 * @param moves tables of which rows are moved into chunks now
 */
public record ChunkStatus(
    boolean hypertables, boolean compression, boolean minuteMeans, List<Move> moves) {

  private static final String IN_USE =
      "SELECT (SELECT count(*) = 2 FROM timescaledb_information.hypertables WHERE"
          + " hypertable_schema = current_schema() AND hypertable_name IN ('sample', 'bin')),"
          + " (SELECT count(*) = 2 FROM timescaledb_information.jobs WHERE proc_name ="
          + " 'policy_compression' AND hypertable_schema = current_schema()"
          + " AND hypertable_name IN ('sample', 'bin')"
          + " AND current_setting('timescaledb.license', true) = 'timescale'),"
          + " to_regclass('bin_minute') IS NOT NULL, to_regclass('chunk_move') IS NOT NULL";

  /** How many rows there are nobody counts; the server's estimate is good enough for progress. */
  private static final String MOVES =
      "SELECT m.name, m.rows, greatest(c.reltuples, s.n_live_tup)::bigint FROM chunk_move m"
          + " JOIN pg_class c ON c.oid = to_regclass(m.name)"
          + " LEFT JOIN pg_stat_user_tables s ON s.relid = c.oid ORDER BY m.name DESC";

  /**
   * How far a table's rows are moved.
   *
   * @param table its name
   * @param rows moved so far
   * @param of about how many there are; 0 or less where the server has not counted yet
   */
  public record Move(String table, long rows, long of) {
    private static Move read(ResultSet rows) throws SQLException {
      return new Move(rows.getString(1), rows.getLong(2), rows.getLong(3));
    }

    /** For people: {@code 2.1 of about 8.0 million rows of sample}. */
    public String words() {
      String whole = of > rows ? String.format(Locale.ROOT, " of about %.1f", of / 1e6) : "";
      return String.format(Locale.ROOT, "%.1f%s million rows of %s", rows / 1e6, whole, table);
    }
  }

  /** What is found there; empty where there is no TimescaleDB. */
  public static Optional<ChunkStatus> read(Connection c) throws SQLException {
    String there = "SELECT to_regclass('timescaledb_information.hypertables')::text";
    if (Query.list(c, rows -> Objects.toString(rows.getString(1), ""), there).contains("")) {
      return Optional.empty();
    }
    boolean[] found =
        Query.list(
                c,
                r ->
                    new boolean[] {
                      r.getBoolean(1), r.getBoolean(2), r.getBoolean(3), r.getBoolean(4)
                    },
                IN_USE)
            .get(0);
    List<Move> moves = found[3] ? Query.list(c, Move::read, MOVES) : List.of();
    return Optional.of(new ChunkStatus(found[0], found[1], found[2], moves));
  }

  /** How far rows are moved into chunks, for people; empty where none are to be moved. */
  public Optional<String> moving() {
    return moves.isEmpty()
        ? Optional.empty()
        : Optional.of(moves.stream().map(Move::words).collect(Collectors.joining(", ")));
  }
}
