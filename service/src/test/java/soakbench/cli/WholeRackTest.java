package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.bench.ServedProcess;
import soakbench.store.server.ReadyFolder;

/**
 * A large rack for a quarter of a minute, or two: pseudo-terminals, the program as users start it,
 * its embedded database. Each line that was printed is held against what the database has under it.
 */
class WholeRackTest {
  private static final int TRACKERS = 24;
  private static final double LINES_PER_S = 100;
  private static final Duration PATIENCE = Duration.ofSeconds(120);

  /** What {@link NumberedLines} prints for the other axes, the same in each line. */
  private static final float[] STEADY_DPS = {0.5f, -0.25f};

  @TempDir private Path folder;

  @Test
  void everyLineOfTwentyFourTrackersIsStoredOnceInItsOrderAndUnaltered() throws Exception {
    isWhole(Duration.ofSeconds(15));
  }

  @Test
  @Tag("bench")
  void andThoseOfTwoMinutes() throws Exception {
    isWhole(Duration.ofMinutes(2));
  }

  private void isWhole(Duration printed) throws Exception {
    Path data = ReadyFolder.in(folder.resolve("data"));
    try (NumberedLines lines = NumberedLines.open(TRACKERS, LINES_PER_S)) {
      Path rack = Files.writeString(folder.resolve("rack.yaml"), lines.rack());
      try (ServedProcess serve = ServedProcess.soon(data, rack)) {
        await().atMost(PATIENCE).until(() -> allOpen(new Asked(serve.url())));
        lines.begin();
        LockSupport.parkNanos(printed.toNanos());
        lines.stop();
        // What is due in the last second may come too late.
        assertThat(lines.sent())
            .as("lines of each tracker")
            .isGreaterThanOrEqualTo((int) ((printed.toSeconds() - 1) * LINES_PER_S));
        assertThat(lines.dropped()).as("bytes for which a terminal had no room").isZero();
        long all = (long) lines.sent() * TRACKERS;
        await().atMost(PATIENCE).until(() -> read(new Asked(serve.url())) == all);
        await().atMost(PATIENCE).until(() -> waiting(new Asked(serve.url())) == 0);
        try (Connection database = connect(data)) {
          // What was read a moment ago may be on its way to the spool, where nothing waits yet.
          await().atMost(PATIENCE).until(() -> count(database) >= all);
          for (int tracker = 0; tracker < TRACKERS; tracker++) {
            isWhole(database, tracker, lines.sent());
          }
          assertThat(count(database)).as("samples of all trackers").isEqualTo(all);
        }
      }
    }
  }

  private static boolean allOpen(Asked asked) {
    int open = 0;
    for (JsonNode port : asked.json("/api/ports").get("ports")) {
      open += port.get("open").asBoolean() ? 1 : 0;
    }
    return open == TRACKERS;
  }

  private static long read(Asked asked) {
    long readings = 0;
    for (JsonNode port : asked.json("/api/ports").get("ports")) {
      assertThat(port.get("rejected").asLong()).as("rejected lines").isZero();
      assertThat(port.get("lost").asLong()).as("gaps in the tracker's own counter").isZero();
      readings += port.get("readings").asLong();
    }
    return readings;
  }

  private static long waiting(Asked asked) {
    return asked.json("/api/ports").get("spool").get("waiting").asLong();
  }

  private static Connection connect(Path data) throws IOException, SQLException {
    return DriverManager.getConnection(
        "jdbc:postgresql://127.0.0.1:" + Files.readString(data.resolve("port")) + "/postgres",
        "postgres",
        Files.readString(data.resolve("password")));
  }

  /** By their times the samples are the printed lines, each once, value by value. */
  private static void isWhole(Connection database, int tracker, int sent) throws SQLException {
    String sql =
        "SELECT seq, temperature_c, gx_dps, gy_dps, gz_dps, temperature_held FROM sample"
            + " WHERE tracker = '"
            + NumberedLines.id(tracker)
            + "' ORDER BY time";
    long seq = 0;
    try (Statement statement = database.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      while (rows.next()) {
        assertThat(rows.getLong(1)).as("the next in order").isEqualTo(seq);
        assertThat(rows.getFloat(2)).isEqualTo(NumberedLines.temperatureC(tracker, seq));
        assertThat(rows.getFloat(3)).isEqualTo(NumberedLines.rateDps(tracker, seq));
        assertThat(rows.getFloat(4)).isEqualTo(STEADY_DPS[0]);
        assertThat(rows.getFloat(5)).isEqualTo(STEADY_DPS[1]);
        assertThat(rows.getBoolean(6)).isFalse();
        seq++;
      }
    }
    assertThat(seq).as("samples of " + NumberedLines.id(tracker)).isEqualTo(sent);
  }

  private static long count(Connection database) throws SQLException {
    try (Statement statement = database.createStatement();
        ResultSet rows = statement.executeQuery("SELECT count(*) FROM sample")) {
      rows.next();
      return rows.getLong(1);
    }
  }
}
