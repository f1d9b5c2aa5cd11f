package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.FileInputStream;
import java.io.IOException;
import java.io.InputStreamReader;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.LinkOption;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.Set;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import java.util.function.LongSupplier;
import org.awaitility.Awaitility;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.model.Tracker;

@Timeout(120)
class DemoRackTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  @Test
  void everyPortButTheTwoLateOnesPrintsItsTrackersLines() throws Exception {
    ExecutorService readers = Executors.newCachedThreadPool();
    Instant now = Instant.now();
    try (DemoRack rack = DemoRack.start(DemoSettings.at(30, now), DemoTransports.terminals())) {
      assertThat(rack.slots()).hasSize(12);
      assertThat(rack.slots().stream().map(DemoSlot::tracker).toList())
          .isEqualTo(rack.roster().stream().map(Tracker::id).toList());
      for (DemoSlot slot : rack.slots()) {
        if (Set.of("S2", "S6").contains(slot.slot())) {
          continue;
        }
        Future<JsonNode> heard = readers.submit(() -> firstWholeLine(slot.port().orElseThrow()));
        JsonNode line = heard.get(30, TimeUnit.SECONDS);
        assertThat(line.get("id").asText()).isEqualTo(slot.tracker());
        Instant time = Instant.parse(line.get("time").asText());
        assertThat(time).isBetween(now.minus(DemoSettings.HEAD_START), Instant.now().plusMillis(1));
      }
    } finally {
      readers.shutdownNow();
    }
  }

  @Test
  void aPulledCableTakesThePortAwayAndBringsItBackAtTheSamePath() throws Exception {
    try (DemoRack rack =
        DemoRack.start(DemoSettings.at(200, Instant.now()), DemoTransports.terminals())) {
      Path port =
          rack.slots().stream()
              .filter(s -> s.slot().equals("W5"))
              .findFirst()
              .flatMap(DemoSlot::port)
              .orElseThrow();
      Path before = port.toRealPath();
      assertThat(Files.exists(before)).isTrue();
      Awaitility.await()
          .atMost(Duration.ofSeconds(30))
          .pollInterval(Duration.ofMillis(20))
          .until(() -> !Files.exists(port, LinkOption.NOFOLLOW_LINKS));
      Awaitility.await()
          .atMost(Duration.ofSeconds(30))
          .pollInterval(Duration.ofMillis(20))
          .until(() -> Files.exists(port));
      assertThat(firstWholeLine(port).get("id").asText()).isEqualTo("MRY-05");
    }
  }

  @Test
  void theClockFollowsWhatIsPrintedAndPortsAreGoneAfterwards() throws Exception {
    Path port;
    try (DemoRack rack =
        DemoRack.start(DemoSettings.at(100, Instant.now()), DemoTransports.terminals())) {
      port = rack.slots().get(0).port().orElseThrow();
      long before = rack.clock().nowUs();
      Awaitility.await()
          .atMost(Duration.ofSeconds(10))
          .until(() -> rack.clock().nowUs() > before + 60_000_000L);
    }
    assertThat(Files.exists(port, LinkOption.NOFOLLOW_LINKS)).isFalse();
    assertThat(Files.exists(port.getParent())).isFalse();
  }

  @Test
  void aReaderThatSleptFindsWholeLinesAndLaterOnes() throws Exception {
    Path port = Files.createTempDirectory("slot").resolve("X1");
    port.getParent().toFile().deleteOnExit();
    AtomicLong nowNs = new AtomicLong();
    try (SlotFeed feed = feed(new TerminalTransport(port), nowNs::get)) {
      for (int s = 0; s < 600; s++) {
        feed.feed(Recipes.START_US + s * 1_000_000L);
      }
      assertThat(feed.droppedBytes()).isZero();
      // The terminal may take a little more a moment later.
      Awaitility.await()
          .atMost(Duration.ofSeconds(10))
          .until(
              () -> {
                nowNs.addAndGet(TimeUnit.SECONDS.toNanos(1) + 1);
                feed.feed(Recipes.START_US + 600_000_000L);
                return feed.droppedBytes() > 0;
              });
      try (FileInputStream in = new FileInputStream(port.toFile());
          BufferedReader reader =
              new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
        while (reader.ready()) {
          JSON.readTree(reader.readLine());
          feed.feed(Recipes.START_US + 600_000_000L);
        }
        feed.feed(Recipes.START_US + 601_000_000L);
        assertThat(JSON.readTree(reader.readLine()).get("seq").asLong()).isGreaterThan(5990);
      }
    }
  }

  private static SlotFeed feed(Transport transport, LongSupplier clockNs) throws IOException {
    DemoTracker soaks = new DemoScenario(1, Recipes.START_US).trackers().get(1);
    return new SlotFeed(soaks, transport, clockNs);
  }

  private static JsonNode firstWholeLine(Path port) throws IOException {
    try (FileInputStream in = new FileInputStream(port.toFile());
        BufferedReader reader =
            new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8))) {
      reader.readLine();
      return JSON.readTree(reader.readLine());
    }
  }
}
