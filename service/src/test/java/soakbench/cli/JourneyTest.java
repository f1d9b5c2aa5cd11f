package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.openqa.selenium.By;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.WebElement;
import soakbench.Chromium;
import soakbench.api.ApiSettings;
import soakbench.cli.commands.Replay;
import soakbench.cli.running.MonotonicClock;
import soakbench.cli.running.Service;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.StampTolerance;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.model.Limits;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ReadyFolder;

/**
 * The whole way: pseudo-terminals, the serial library, the embedded database, HTTP and a browser,
 * held against a replay of the same lines.
 */
class JourneyTest {
  private static final Duration PATIENCE = Duration.ofSeconds(90);
  private static final double RATE_HZ = 10;
  private static final int SECONDS = 2700;

  @TempDir private Path folder;

  @Test
  void aTileTurnsReadyAtTheSampleTimeThatAReplayGives() throws Exception {
    List<byte[]> first = SimulatedLines.of("ROBIN-1", 9, SECONDS, RATE_HZ);
    List<byte[]> second = SimulatedLines.of("ROBIN-2", 14, SECONDS, RATE_HZ);
    long readyUs = readyByReplay("ROBIN-1", first);
    int before = (int) ((readyUs / 1e6 - SimulatedLines.START.getEpochSecond() - 60) * RATE_HZ);
    try (Chromium chromium = Chromium.start();
        LinePort portOne = new LinePort();
        LinePort portTwo = new LinePort();
        Service service = service()) {
      service.read(rack(portOne, portTwo), SqliteSpool.open(folder.resolve("spool.db"), 1 << 24));
      awaitOpen(service, 2);
      chromium.driver().get(service.url().toString());
      send(portOne, first.subList(0, before));
      send(portTwo, second);
      await().atMost(PATIENCE).until(() -> stateShown(chromium, "ROBIN-1") != null);
      assertThat(stateShown(chromium, "ROBIN-1")).isNotEqualTo("ready");

      send(portOne, first.subList(before, first.size()));

      await().atMost(PATIENCE).until(() -> "ready".equals(stateShown(chromium, "ROBIN-1")));
      // The page draws a tile anew at any moment; what was found just before may be gone.
      String since =
          await()
              .atMost(PATIENCE)
              .ignoreException(StaleElementReferenceException.class)
              .until(() -> readySince(chromium), text -> text != null);
      assertThat(Instant.parse(since)).isEqualTo(instant(readyUs));
      // A slow machine may say for a moment that it is behind, and the browser notes each 503.
      assertThat(chromium.complaints()).allMatch(line -> line.contains("/health - Failed to load"));

      Asked asked = new Asked(service.url());
      awaitStored(asked, "ROBIN-1", first.size());
      awaitStored(asked, "ROBIN-2", second.size());
      assertThat(readyInTimeline(asked, "ROBIN-1")).isEqualTo(instant(readyUs));
      assertThat(samples(asked, "ROBIN-1")).isEqualTo(first.size());
    }
  }

  private long readyByReplay(String tracker, List<byte[]> lines) throws Exception {
    Path file = folder.resolve(tracker + ".jsonl");
    Files.write(file, SimulatedLines.join(lines));
    return Replay.of(file, Limits.DEFAULT).trackers().get(0).soaks().get(0).timeline().stream()
        .filter(c -> c.state() == State.READY)
        .mapToLong(StateChange::timeUs)
        .findFirst()
        .orElseThrow(() -> new AssertionError("the simulated tracker never gets ready"));
  }

  private Service service() {
    return Service.start(
        DatabaseSettings.embedded(ReadyFolder.in(folder.resolve("data"))),
        ApiSettings.local(0),
        Limits.DEFAULT,
        new MonotonicClock());
  }

  private static RackFile rack(LinePort... ports) {
    List<RackFile.Slot> slots = new ArrayList<>();
    for (LinePort port : ports) {
      slots.add(new RackFile.Slot("P" + (slots.size() + 1), port.path()));
    }
    return new RackFile("test", slots).with(StampTolerance.BELIEVED);
  }

  private static void awaitOpen(Service service, int ports) {
    await()
        .atMost(PATIENCE)
        .until(() -> service.sources().stream().filter(SourceStatus::open).count() == ports);
  }

  /** The reader throws away what comes before the first line end, as on a real port. */
  private static void send(LinePort port, List<byte[]> lines) {
    port.write(new byte[] {'\n'});
    port.write(SimulatedLines.join(lines));
  }

  private static String stateShown(Chromium chromium, String tracker) {
    return chromium.ask(
        "document.getElementById('tracker-" + tracker + "')?.dataset.state ?? null");
  }

  private static void awaitStored(Asked asked, String tracker, int count) {
    await().atMost(PATIENCE).until(() -> samples(asked, tracker) == count);
  }

  private static long samples(Asked asked, String tracker) {
    return asked.csv("/api/soaks/" + soak(asked, tracker) + "/samples").lines().count() - 1;
  }

  private static String soak(Asked asked, String tracker) {
    return asked.json("/api/soaks?tracker=" + tracker).get("soaks").get(0).get("soak").asText();
  }

  private static Instant readyInTimeline(Asked asked, String tracker) {
    JsonNode timeline = asked.json("/api/soaks/" + soak(asked, tracker) + "/timeline");
    for (JsonNode change : timeline.get("timeline")) {
      if (change.get("state").asText().equals("ready")) {
        return Instant.parse(change.get("time").asText());
      }
    }
    throw new AssertionError("never ready: " + timeline);
  }

  private static Instant instant(long us) {
    return Instant.ofEpochSecond(us / 1_000_000, us % 1_000_000 * 1000);
  }

  private static String readySince(Chromium chromium) {
    WebElement since =
        chromium.driver().findElement(By.cssSelector("#tracker-ROBIN-1 .moment time"));
    return since.getDomAttribute("datetime");
  }
}
