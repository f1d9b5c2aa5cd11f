package soakbench.store.chunks;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import java.util.function.BooleanSupplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;
import soakbench.store.connection.ChunkStatus;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.connection.Retries;

/**
 * Moves one table's rows into chunks, in pieces. Every piece is a transaction of its own that says
 * in the database how far it came, so it may be ended at any point, by whatever, and goes on there.
 * While a piece is copied nobody else writes to the table, since what were deleted between reading
 * and copying it would come back; so pieces are short, and as long as one took is the rest after
 * it. What may wait for others waits only a moment and is tried again, as others queue behind it.
 */
final class ChunkMove {
  private static final Logger LOG = LoggerFactory.getLogger(ChunkMove.class);
  private static final long PIECE_MS = 100;
  private static final int LEAST_ROWS = 200;
  private static final int MOST_ROWS = 50_000;
  private static final long TELL_NS = TimeUnit.SECONDS.toNanos(30);
  private static final String BUSY = "55P03";
  private static final long BUSY_MS = 250;

  private static final String PIECE =
      """
      WITH piece AS MATERIALIZED (
        SELECT * FROM %1$s WHERE (tracker, time) > (?, ?::timestamptz) ORDER BY tracker, time LIMIT ?
      ), put AS (
        INSERT INTO %1$s_chunks SELECT * FROM piece ON CONFLICT DO NOTHING
      ), last AS (
        SELECT tracker, time FROM piece ORDER BY tracker DESC, time DESC LIMIT 1
      )
      UPDATE chunk_move m SET tracker = last.tracker, time = last.time,
        rows = rows + (SELECT count(*) FROM piece) FROM last WHERE m.name = '%1$s'\
      """;

  private final String table;
  private final int chunkHours;
  private int rows = 2_000;
  private long toldNs = System.nanoTime();

  /**
   * @param chunkHours how much time a chunk covers
   */
  ChunkMove(String table, int chunkHours) {
    this.table = table;
    this.chunkHours = chunkHours;
  }

  /** Whether a table is none of chunks yet. */
  static boolean isPlain(Connection c, String table) throws SQLException {
    return Query.list(
            c,
            rows -> rows.getInt(1),
            "SELECT 1 FROM timescaledb_information.hypertables WHERE hypertable_name = ?"
                + " AND hypertable_schema = current_schema()",
            table)
        .isEmpty();
  }

  /**
   * Moves what is not moved yet.
   *
   * @param stops whether to end before it is done
   * @throws StoreException if the database does not go on; calling it again goes on
   */
  void all(Pools pools, BooleanSupplier stops) {
    if (!pools.request("looking for chunks", c -> isPlain(c, table))) {
      return;
    }
    untilFree(stops, () -> pools.write("beginning to move rows into chunks", this::begin));
    boolean done = false;
    while (!done && !stops.getAsBoolean()) {
      done = untilFree(stops, () -> piece(pools));
    }
    if (done) {
      untilFree(stops, () -> pools.write("putting chunks into use", this::swap));
    }
  }

  private interface Step {
    boolean done();
  }

  /** Where others write or read at the moment it is tried again, till it goes or is to stop. */
  private static boolean untilFree(BooleanSupplier stops, Step step) {
    while (!stops.getAsBoolean()) {
      try {
        return step.done();
      } catch (StoreException e) {
        boolean busy =
            e.getCause() instanceof SQLException fault && BUSY.equals(fault.getSQLState());
        if (!busy || !Retries.slept(BUSY_MS)) {
          throw e;
        }
      }
    }
    return false;
  }

  private boolean begin(Connection c) throws SQLException {
    lock(c, "SHARE ROW EXCLUSIVE");
    if (!isPlain(c, table)) {
      return false;
    }
    boolean begun =
        Query.list(c, r -> r.getBoolean(1), "SELECT to_regclass(?) IS NOT NULL", chunks()).get(0);
    if (begun && !columns(c, table).equals(columns(c, chunks()))) {
      // A newer program added a column meanwhile: what was copied lacks it.
      Query.change(c, "DROP TABLE " + chunks());
      Query.change(c, "DELETE FROM chunk_move WHERE name = ?", table);
      dropTriggers(c);
      begun = false;
    }
    if (!begun) {
      create(c);
      LOG.info("{} of before TimescaleDB came is moved into chunks", table);
    }
    return true;
  }

  private void create(Connection c) throws SQLException {
    Query.change(c, "CREATE TABLE %s (LIKE %s INCLUDING ALL)".formatted(chunks(), table));
    Query.list(
        c,
        r -> r.getString(1),
        "SELECT create_hypertable(?::regclass, by_range('time', ?::interval),"
            + " create_default_indexes => false)::text",
        chunks(),
        chunkHours + " hours");
    Query.change(c, "INSERT INTO chunk_move (name) VALUES (?)", table);
    String trigger =
        "CREATE TRIGGER also_%1$s AFTER %1$s ON "
            + table
            + " %2$s FOR EACH STATEMENT"
            + " EXECUTE FUNCTION also_into_chunks('"
            + chunks()
            + "')";
    Query.change(c, trigger.formatted("insert", "REFERENCING NEW TABLE AS came"));
    Query.change(c, trigger.formatted("delete", "REFERENCING OLD TABLE AS gone"));
    Query.change(c, trigger.formatted("update", "REFERENCING OLD TABLE AS gone NEW TABLE AS came"));
    Query.change(c, trigger.formatted("truncate", ""));
  }

  private void dropTriggers(Connection c) throws SQLException {
    for (String event : List.of("insert", "delete", "update", "truncate")) {
      Query.change(c, "DROP TRIGGER IF EXISTS also_" + event + " ON " + table);
    }
  }

  /** Returns whether nothing was left. */
  private boolean piece(Pools pools) {
    long startNs = System.nanoTime();
    boolean last = pools.write("moving rows into chunks", this::copy);
    long tookMs = TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - startNs);
    rows = (int) Math.max(LEAST_ROWS, Math.min(MOST_ROWS, rows * PIECE_MS / Math.max(tookMs, 25)));
    if (!last) {
      tell(pools);
      Retries.slept(Math.max(tookMs, 10));
    }
    return last;
  }

  private boolean copy(Connection c) throws SQLException {
    lock(c, "SHARE ROW EXCLUSIVE");
    return copyNext(c) == 0;
  }

  /** Only to be called while nobody else writes to the table. */
  private int copyNext(Connection c) throws SQLException {
    Optional<Object[]> place =
        Query.first(
            c,
            ChunkMove::place,
            "SELECT tracker, time::text FROM chunk_move WHERE name = ?",
            table);
    if (place.isEmpty() || !isPlain(c, table)) {
      // Another program has done it.
      return 0;
    }
    return Query.change(c, PIECE.formatted(table), place.get()[0], place.get()[1], rows);
  }

  private static Object[] place(ResultSet r) throws SQLException {
    String tracker = r.getString(1);
    return new Object[] {
      tracker == null ? "" : tracker, tracker == null ? "-infinity" : r.getString(2)
    };
  }

  private void tell(Pools pools) {
    if (System.nanoTime() - toldNs < TELL_NS) {
      return;
    }
    toldNs = System.nanoTime();
    pools
        .request("looking how far rows are moved", ChunkStatus::read)
        .flatMap(ChunkStatus::moving)
        .ifPresent(words -> LOG.info("moving into chunks: {}", words));
  }

  /** The chunks take the table's name, and its rights and views with it. */
  private boolean swap(Connection c) throws SQLException {
    lock(c, "ACCESS EXCLUSIVE");
    if (!isPlain(c, table)) {
      return true;
    }
    int left;
    do {
      // What was written since the last piece.
      left = copyNext(c);
    } while (left > 0);
    List<String> after = TableUsers.moveTo(c, table, chunks());
    dropTriggers(c);
    Query.change(c, "ALTER TABLE %s RENAME TO %1$s_before".formatted(table));
    Query.change(c, "ALTER TABLE %s RENAME TO %s".formatted(chunks(), table));
    for (String sql : after) {
      Query.change(c, sql);
    }
    Query.change(c, "DROP TABLE %s_before".formatted(table));
    Query.change(c, "ALTER INDEX %s_pkey RENAME TO %s_pkey".formatted(chunks(), table));
    Query.change(c, "DELETE FROM chunk_move WHERE name = ?", table);
    return true;
  }

  private void lock(Connection c, String mode) throws SQLException {
    Query.change(c, "SET LOCAL lock_timeout = '500ms'");
    Query.change(c, "LOCK TABLE %s IN %s MODE".formatted(table, mode));
  }

  private static List<String> columns(Connection c, String of) throws SQLException {
    return Query.list(
        c,
        r -> r.getString(1),
        "SELECT attname || ' ' || atttypid::regtype || ' ' || attnotnull FROM pg_attribute"
            + " WHERE attrelid = ?::regclass AND attnum > 0 AND NOT attisdropped ORDER BY attnum",
        of);
  }

  private String chunks() {
    return table + "_chunks";
  }
}
