package soakbench.store.chunks;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Optional;
import javax.sql.DataSource;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;
import soakbench.store.connection.DatabaseFaults;
import soakbench.store.connection.Query;
import soakbench.store.connection.Schema;
import soakbench.store.server.ChunkSettings;
import soakbench.store.server.ServerAddress;

/**
 * What TimescaleDB does with chunks: how much time each covers, compression of old ones, minutes
 * put together from bins. Where one can't be had, one log line says why, and the rest goes on.
 */
final class ChunkFeatures {
  private static final Logger LOG = LoggerFactory.getLogger(ChunkFeatures.class);
  private static final String COMMUNITY = "timescale";

  private static final String INTERVAL =
      "SELECT time_interval::text, set_chunk_time_interval(?::regclass, ?::interval) FROM"
          + " timescaledb_information.dimensions WHERE hypertable_schema = current_schema()"
          + " AND hypertable_name = ? AND column_name = 'time' AND time_interval <> ?::interval";

  /** Services that write side by side may be given others. */
  private static final String LAST =
      "where several services write to one database, the options of the one started last hold";

  private static final String COMPRESSED_AFTER =
      "SELECT config->>'compress_after' FROM timescaledb_information.jobs"
          + " WHERE proc_name = 'policy_compression' AND hypertable_schema = current_schema()"
          + " AND hypertable_name = ?";

  private ChunkFeatures() {}

  private interface Feature {
    void add() throws SQLException;
  }

  static void add(ServerAddress address, ChunkSettings settings) {
    DataSource source = address.dataSource(0);
    attempt("new chunks keep the length they had", () -> setIntervals(source, settings));
    attempt(
        "old chunks are not compressed, and long charts are put together from seconds",
        () -> {
          if (isCommunity(source)) {
            Schema.addChunkFeatures(source, address);
            compress(source, settings);
          }
        });
  }

  /** A fault that passes is not waited for: the next start tries again. */
  private static void attempt(String without, Feature feature) {
    try {
      feature.add();
    } catch (SQLException e) {
      LOG.warn("{} ({})", without, DatabaseFaults.detail(e));
    } catch (StoreException e) {
      LOG.warn("{} ({})", without, e.getMessage());
    }
  }

  private static void setIntervals(DataSource source, ChunkSettings settings) throws SQLException {
    try (Connection c = source.getConnection()) {
      setInterval(c, "sample", settings.sampleHours() + " hours");
      setInterval(c, "bin", settings.binHours() + " hours");
    }
  }

  private static void setInterval(Connection c, String table, String interval) throws SQLException {
    Query.list(c, rows -> rows.getString(1), INTERVAL, table, interval, table, interval)
        .forEach(
            before ->
                LOG.info(
                    "new chunks of {} cover {} and no longer {}; {}",
                    table,
                    interval,
                    before,
                    LAST));
  }

  private static boolean isCommunity(DataSource source) throws SQLException {
    try (Connection c = source.getConnection()) {
      String licence =
          Query.list(c, rows -> rows.getString(1), "SELECT current_setting('timescaledb.license')")
              .get(0);
      if (!licence.equals(COMMUNITY)) {
        LOG.info(
            "TimescaleDB's licence is {} there: old chunks are not compressed (needs {})",
            licence,
            COMMUNITY);
        LOG.info(
            "TimescaleDB's licence is {} there: long charts are put together from seconds (needs"
                + " {})",
            licence,
            COMMUNITY);
      }
      return licence.equals(COMMUNITY);
    }
  }

  private static void compress(DataSource source, ChunkSettings settings) throws SQLException {
    String after = settings.compressAfterDays() + " days";
    try (Connection c = source.getConnection()) {
      for (String table : new String[] {"sample", "bin"}) {
        Optional<String> now = Query.first(c, r -> r.getString(1), COMPRESSED_AFTER, table);
        if (!now.equals(Optional.of(after))) {
          now.ifPresent(
              before ->
                  LOG.info(
                      "chunks of {} are compressed after {} and no longer {}; {}",
                      table,
                      after,
                      before,
                      LAST));
          Query.change(c, "CALL remove_columnstore_policy(?::regclass, if_exists => true)", table);
          Query.change(
              c, "CALL add_columnstore_policy(?::regclass, after => ?::interval)", table, after);
        }
      }
    }
  }
}
