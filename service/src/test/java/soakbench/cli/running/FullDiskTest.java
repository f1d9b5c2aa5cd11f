package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
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
import java.util.ArrayList;
import java.util.List;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.SmallDisk;
import soakbench.api.ApiSettings;
import soakbench.cli.Asked;
import soakbench.cli.NumberedLines;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.RackFileParser;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.live.StoreException;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ReadyFolder;

/** The embedded database's disk is full, or may only be read, while a rack is being read. */
@Timeout(300)
class FullDiskTest {
  private static final Duration PATIENCE = Duration.ofSeconds(120);
  private static final int TRACKERS = 4;

  @TempDir private Path folder;

  @Test
  void whenTheDatabasesDiskIsFullReadingGoesOnAndWithRoomAllIsStoredOnce() throws Exception {
    readThroughAFullDisk(
        (asked, data) ->
            await()
                .atMost(PATIENCE)
                .until(() -> asked.health().toString().contains("disk is full")));
  }

  @Test
  void norIsAnythingLostWhenTheServerDiesOfIt() throws Exception {
    readThroughAFullDisk(
        (asked, data) -> {
          // More than its log's file holds; it can't go on without another one.
          String log = "SELECT pg_logical_emit_message(true, 'full', repeat('x', 40000000))";
          // Its own log lies on the full disk, so what it died of may not be written there.
          assertThatThrownBy(() -> ask(data, log))
              .isInstanceOf(SQLException.class)
              .matches(FullDiskTest::isTheServersDeath, "tells that the server died");
        });
  }

  private interface Full {
    void until(Asked asked, Path data) throws Exception;
  }

  private void readThroughAFullDisk(Full full) throws Exception {
    Path small = Files.createDirectory(folder.resolve("small"));
    try (SmallDisk disk = SmallDisk.mounted(small, "size=160m,mode=755");
        NumberedLines lines = NumberedLines.open(TRACKERS, 500)) {
      Path data = ReadyFolder.in(small.resolve("data"));
      try (Service service = service(data)) {
        service.read(rack(lines), spool());
        await().atMost(PATIENCE).until(() -> service.sources().stream().allMatch(s -> s.open()));
        lines.begin();
        await().atMost(PATIENCE).until(() -> count(data) > 1_000);
        Asked asked = new Asked(service.url());
        // Two gigabytes are low, and it never has them: so it is told long before it is full.
        await().atMost(PATIENCE).until(() -> lowRoomAlone(asked));
        assertThat(asked.health().at("/room/free_bytes").asLong()).isBetween(1L, 160L << 20);
        assertThat(asked.json("/api/alarms").findValuesAsText("kind")).contains("room_low");
        Path ballast = disk.fill();
        full.until(asked, data);
        long then = lines.sent();
        await().atMost(PATIENCE).until(() -> lines.sent() > then + 2_000);
        assertThat(service.sources()).allMatch(s -> s.open());
        Files.delete(ballast);
        lines.stop();
        assertThat(lines.dropped()).isZero();
        await()
            .atMost(PATIENCE)
            .ignoreExceptions()
            .until(() -> count(data) == (long) TRACKERS * lines.sent());
        isWhole(data, lines.sent());
        await().atMost(PATIENCE).until(() -> lowRoomAlone(asked));
      }
    }
  }

  /** Whether nothing is wrong but that: whatever keeps samples from being stored goes before it. */
  private static boolean lowRoomAlone(Asked asked) {
    JsonNode health = asked.health();
    return health.path("trouble").asText().startsWith("The database's room is low: 0.");
  }

  private static Service service(Path data) {
    return Service.start(
        DatabaseSettings.embedded(data), ApiSettings.local(0), null, new MonotonicClock());
  }

  private RackFile rack(NumberedLines lines) throws IOException {
    return RackFileParser.read(Files.writeString(folder.resolve("rack.yaml"), lines.rack()));
  }

  private SqliteSpool spool() {
    return SqliteSpool.open(folder.resolve("spool.db"), SqliteSpool.DEFAULT_LIMIT_BYTES);
  }

  private static Connection connect(Path data) throws IOException, SQLException {
    return DriverManager.getConnection(
        "jdbc:postgresql://127.0.0.1:" + Files.readString(data.resolve("port")) + "/postgres",
        "postgres",
        Files.readString(data.resolve("password")));
  }

  private static void ask(Path data, String sql) throws IOException, SQLException {
    try (Connection connection = connect(data);
        Statement statement = connection.createStatement()) {
      statement.execute(sql);
    }
  }

  /** It says PANIC if it gets so far, or else the connection breaks. */
  private static boolean isTheServersDeath(Throwable failure) {
    return failure.getMessage().contains("PANIC")
        || ((SQLException) failure).getSQLState().startsWith("08");
  }

  private static long count(Path data) throws IOException, SQLException {
    try (Connection connection = connect(data);
        Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery("SELECT count(*) FROM sample")) {
      rows.next();
      return rows.getLong(1);
    }
  }

  private static void isWhole(Path data, int sent) throws IOException, SQLException {
    for (int tracker = 0; tracker < TRACKERS; tracker++) {
      List<Long> seqs = new ArrayList<>();
      String sql =
          "SELECT seq FROM sample WHERE tracker = '"
              + NumberedLines.id(tracker)
              + "' ORDER BY time";
      try (Connection connection = connect(data);
          Statement statement = connection.createStatement();
          ResultSet rows = statement.executeQuery(sql)) {
        while (rows.next()) {
          seqs.add(rows.getLong(1));
        }
      }
      assertThat(seqs).isEqualTo(LongStream.range(0, sent).boxed().toList());
    }
  }

  @Test
  void aDataFolderThatMayOnlyBeReadIsOneSentence() throws Exception {
    Path closed = Files.createDirectory(folder.resolve("closed"));
    try (SmallDisk disk = SmallDisk.mounted(closed, "size=1m,ro")) {
      assertThatThrownBy(() -> service(closed.resolve("data")))
          .isInstanceOf(StoreException.class)
          .hasMessageContainingAll(
              "the data folder " + closed.resolve("data") + " can't be used (",
              "ead-only file system",
              "choose another with --data");
    }
  }
}
