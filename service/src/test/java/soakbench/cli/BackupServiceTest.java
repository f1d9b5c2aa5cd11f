package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.api.ApiSettings;
import soakbench.api.Lines;
import soakbench.cli.running.MonotonicClock;
import soakbench.cli.running.Service;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.figures.FigureDeriver;
import soakbench.store.Database;
import soakbench.store.SharedServer;
import soakbench.store.backup.Restore;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.GivenServer;
import soakbench.store.server.ReadyFolder;

/** A service at work is backed up while samples come in, and found again in another store. */
@Timeout(180)
class BackupServiceTest {
  private static final String LINES = "application/x-ndjson";

  private static final String MARKS = "/api/trackers/TERN-1/calibrations";

  /** What people would miss; of two soaks that ended before, so that it stays as it is. */
  private static final List<String> ASKED =
      List.of(
          "/api/trackers",
          "/api/limits",
          "/api/figures?lot=Barley-2",
          "/api/trackers/TERN-1/figures",
          MARKS,
          "/api/soaks?tracker=TERN-1",
          "/api/lots/Barley-2",
          "/api/screening-limits");

  @TempDir private Path folder;

  private volatile boolean streams = true;

  @Test
  void allThatItAnsweredItAnswersAgainOutOfAnotherFolder() throws Exception {
    Path from = ReadyFolder.in(folder.resolve("workshop"));
    Path to = folder.resolve("restored");
    Map<String, JsonNode> before = backedUp(DatabaseSettings.embedded(from), "--data", from);
    assertThat(run("restore", file(), "--data", to.toString()))
        .contains("data folder " + to + " is restored from " + file());
    isAnswered(before, DatabaseSettings.embedded(to));
  }

  @Test
  void andOutOfAGivenServerThatWasMovedTo() throws Exception {
    try (GivenServer given = GivenServer.orSkip()) {
      DatabaseSettings own = SharedServer.empty();
      Map<String, JsonNode> before = backedUp(own, "--db", SharedServer.url(own));
      Restore.into(given.settings(), Path.of(file()), (words, share) -> {});
      isAnswered(before, given.settings());
    }
  }

  private String file() {
    return folder.resolve("workshop.zip").toString();
  }

  private static Service service(DatabaseSettings settings) {
    return Service.start(settings, ApiSettings.local(0), null, new MonotonicClock());
  }

  /** What the service answered when it was backed up. */
  private Map<String, JsonNode> backedUp(DatabaseSettings settings, String option, Object where)
      throws Exception {
    try (Service service = service(settings)) {
      Asked asked = new Asked(service.url());
      record(asked);
      awaitDerived(service, asked);
      Map<String, JsonNode> answers = answers(asked);
      Thread stream = new Thread(() -> stream(asked), "stream");
      stream.start();
      try {
        await().until(() -> soaks(asked, "PLOVER-9").size() == 1);
        run("backup", file(), option, where.toString());
        assertThat(run("restore", "--check", file())).contains("is whole");
        return answers;
      } finally {
        streams = false;
        stream.join();
      }
    }
  }

  private static void record(Asked asked) {
    asked.send("PUT", "/api/limits", "application/json", "{\"band_low_c\":27.5}");
    String roster = "{\"name\":\"Tern 1\",\"lot\":\"Barley-2\",\"rates\":\"raw\",\"note\":\"é\"}";
    asked.send("PUT", "/api/trackers/TERN-1", "application/json", roster);
    long startUs = Instant.now().minus(Duration.ofDays(2)).getEpochSecond() * 1_000_000;
    for (int day = 0; day < 2; day++) {
      asked.send(
          "POST",
          "/api/samples",
          LINES,
          Lines.warmUp("TERN-1", startUs + day * 86_400_000_000L, 900));
    }
    String at = Instant.ofEpochSecond(startUs / 1_000_000 + 800).toString();
    asked.send(
        "POST", "/api/trackers/TERN-1/calibrations", "application/json", "{\"at\":\"" + at + "\"}");
    String soak = soaks(asked, "TERN-1").get(0).get("soak").asText();
    asked.send("POST", "/api/soaks/" + soak + "/end", "application/json", "");
  }

  /** Until the figures of both soaks are those of their ends, and the mark is there. */
  private static void awaitDerived(Service service, Asked asked) {
    await()
        .atMost(Duration.ofSeconds(60))
        .until(
            () ->
                service.database().figureTable().of("TERN-1").size() == 2
                    && asked.json(MARKS).get("calibrations").size() == 1
                    && isUpToDate(service.database()));
  }

  private static boolean isUpToDate(Database database) {
    return database.figures().outdated(FigureDeriver.VERSION, 9, Set.of()).isEmpty()
        && database.calibrations().outdated(CalibrationDeriver.VERSION, 9, Set.of()).isEmpty();
  }

  private static JsonNode soaks(Asked asked, String tracker) {
    return asked.json("/api/soaks?tracker=" + tracker).get("soaks");
  }

  /** Ten seconds of another tracker at a time, fifty times a second at most. */
  private void stream(Asked asked) {
    long startUs = Instant.now().minus(Duration.ofHours(5)).getEpochSecond() * 1_000_000;
    for (int i = 0; streams; i++) {
      long atUs = startUs + i * 10_000_000L;
      asked.send("POST", "/api/samples", LINES, Lines.warmUp("PLOVER-9", atUs, 10));
      LockSupport.parkNanos(20_000_000);
    }
  }

  private static Map<String, JsonNode> answers(Asked asked) {
    Map<String, JsonNode> answers = new TreeMap<>();
    ASKED.forEach(path -> answers.put(path, asked.json(path)));
    for (JsonNode soak : soaks(asked, "TERN-1")) {
      for (String part : List.of("", "/timeline", "/bins?points=200", "/warm-up", "/bias-curve")) {
        String path = "/api/soaks/" + soak.get("soak").asText() + part;
        answers.put(path, asked.json(path));
      }
    }
    return answers;
  }

  private static void isAnswered(Map<String, JsonNode> before, DatabaseSettings settings)
      throws Exception {
    try (Service service = service(settings)) {
      Asked asked = new Asked(service.url());
      before.forEach((path, answer) -> assertThat(asked.json(path)).as(path).isEqualTo(answer));
      // What came in while it was copied is there up to one moment, and no further.
      for (JsonNode soak : soaks(asked, "PLOVER-9")) {
        String path = "/api/soaks/" + soak.get("soak").asText();
        long counted = asked.json(path).get("samples").asLong();
        // Those of its last seconds, which are not over yet, are counted later: a second is over
        // when something two seconds newer was heard.
        assertThat(asked.csv(path + "/samples").lines().count() - 1)
            .isBetween(counted, counted + 30);
      }
    }
  }

  private static String run(String... args) {
    StringWriter out = new StringWriter();
    StringWriter err = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(err, true));
    int exit = line.execute(args);
    assertThat(exit).as(err.toString()).isZero();
    return out.toString();
  }
}
