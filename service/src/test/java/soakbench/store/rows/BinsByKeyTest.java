package soakbench.store.rows;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** A soak's seconds are read in the order of their key, however many trackers lie between them. */
@Timeout(120)
class BinsByKeyTest {
  /** As a rack writes them: a second of all trackers after the other. */
  private static final String BINS =
      "INSERT INTO bin SELECT time, time, time, %s, %s, 1, 'T-' || number FROM"
          + " generate_series(timestamptz '2026-11-01 00:00Z', '2026-11-01 03:00Z', '1 second')"
          + " time, generate_series(1, 24) number";

  private static final int NUMBERS = 16;
  private static final int COUNTS = 7;

  @Test
  void theyAreNotGatheredAndSorted() throws Exception {
    DatabaseSettings settings = SharedServer.empty();
    Database.open(settings).close();
    try (Connection connection = SharedServer.connect(settings);
        Statement statement = connection.createStatement()) {
      statement.execute(
          BINS.formatted(
              String.join(", ", "0".repeat(NUMBERS).split("")),
              String.join(", ", "1".repeat(COUNTS).split(""))));
      statement.execute("ANALYZE bin");
      assertThat(plan(connection)).contains("Index Scan").doesNotContain("Sort", "Bitmap");
      statement.execute("SET random_page_cost = 4");
      assertThat(plan(connection)).as("by the server's default").contains("Sort", "Bitmap");
    }
  }

  private static String plan(Connection connection) throws SQLException {
    List<String> lines =
        Query.list(
            connection,
            rows -> rows.getString(1),
            "EXPLAIN SELECT * FROM bin WHERE tracker = 'T-5' AND time >= '2026-11-01'"
                + " AND time < '2026-11-02' ORDER BY time");
    return String.join("\n", lines);
  }
}
