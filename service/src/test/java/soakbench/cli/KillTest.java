package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.locks.LockSupport;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.bench.ServedProcess;
import soakbench.store.server.ReadyFolder;

/**
 * The program killed with signal 9 in the middle of soaks, at random moments, and started again.
 */
class KillTest {
  private static final double RATE_HZ = 10;
  private static final double SPEED = 20;
  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final List<String> TRACKERS = List.of("KITE-1", "KITE-2", "KITE-3");

  @TempDir private Path folder;

  @Test
  void nothingStoredIsLostOrDoubledAndTheTimelineGoesOn() throws Exception {
    killed(1);
  }

  @Test
  @Tag("bench")
  void norAfterFiveDeaths() throws Exception {
    killed(5);
  }

  private void killed(int kills) throws Exception {
    long seed = Long.getLong("soakbench.test.seed", System.nanoTime());
    System.out.println("KillTest: -Dsoakbench.test.seed=" + seed);
    Random random = new Random(seed);
    List<LinePort> ports = new ArrayList<>();
    List<List<byte[]>> lines = new ArrayList<>();
    StringBuilder rack = new StringBuilder("rack: test\ntimes: simulated\nslots:\n");
    for (String tracker : TRACKERS) {
      LinePort port = new LinePort();
      ports.add(port);
      lines.add(SimulatedLines.of(tracker, 100 + ports.size(), 3600, RATE_HZ));
      rack.append("  P").append(ports.size()).append(": {port: ").append(port.path()).append("}\n");
    }
    Path rackFile = Files.writeString(folder.resolve("rack.yaml"), rack.toString());
    Path data = ReadyFolder.in(folder.resolve("data"));
    try (Feeder feeder = Feeder.start(ports, lines, RATE_HZ * SPEED)) {
      Map<String, Seen> seen = new HashMap<>();
      for (int kill = 0; kill < kills; kill++) {
        ServedProcess serve = ServedProcess.soon(data, rackFile);
        try {
          // Before the first new line can be stored: what is there now is what survived.
          seen.forEach(
              (tracker, before) -> Seen.look(new Asked(serve.url()), tracker).survived(before));
          awaitProgress(new Asked(serve.url()), seen);
          TRACKERS.forEach(t -> seen.put(t, Seen.look(new Asked(serve.url()), t)));
          LockSupport.parkNanos(random.nextInt(3_000) * 1_000_000L);
        } finally {
          serve.kill();
        }
      }
      try (ServedProcess serve = ServedProcess.soon(data, rackFile)) {
        seen.forEach(
            (tracker, before) -> Seen.look(new Asked(serve.url()), tracker).survived(before));
        awaitProgress(new Asked(serve.url()), seen);
        feeder.close();
        for (String tracker : TRACKERS) {
          Seen now = Seen.agreesWithReplay(new Asked(serve.url()), tracker, folder);
          assertThat(now.timeline()).hasSizeGreaterThan(kills);
        }
      }
    }
    for (LinePort port : ports) {
      port.close();
    }
  }

  private static void awaitProgress(Asked asked, Map<String, Seen> before) {
    for (String tracker : TRACKERS) {
      Instant past = before.containsKey(tracker) ? before.get(tracker).asOf() : Instant.EPOCH;
      await()
          .atMost(PATIENCE)
          .ignoreExceptionsMatching(e -> e instanceof AssertionError)
          .until(() -> heardOf(asked, tracker) && isFurther(asked, tracker, past));
    }
  }

  /**
   * What was heard is shown before the first of it is stored, by today's clock till it is judged.
   */
  private static boolean isFurther(Asked asked, String tracker, Instant past) {
    JsonNode verdict = asked.json("/api/trackers/" + tracker + "/readiness");
    return !verdict.get("soak").isNull()
        && Instant.parse(verdict.get("as_of").asText()).isAfter(past.plusSeconds(60))
        && asked.json("/api/soaks?tracker=" + tracker).at("/soaks/0/samples").asLong() > 0;
  }

  private static boolean heardOf(Asked asked, String tracker) {
    for (JsonNode r : asked.json("/api/readiness").get("trackers")) {
      if (r.get("tracker").asText().equals(tracker)) {
        return true;
      }
    }
    return false;
  }
}
