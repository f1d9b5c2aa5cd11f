package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.bench.Program;
import soakbench.store.server.ReadyFolder;

/**
 * A real service with half a gibibyte, while a sender gone mad posts thousands of ids and many
 * upload recordings at once: it says how it is, and a live tracker that turns hot is seen.
 */
class FloodTest {
  private static final ObjectMapper JSON = new ObjectMapper();

  /** On a machine that does nothing else; a loaded one takes longer to start anything. */
  private static final Duration SOON = Duration.ofSeconds(5);

  private static final Duration LOADED = Duration.ofSeconds(10);
  private static final Duration AT_ONCE = Duration.ofSeconds(1);
  private static final Duration AT_ONCE_LOADED = Duration.ofSeconds(3);

  @TempDir private Path folder;
  private final HttpClient http = HttpClient.newHttpClient();
  private final ExecutorService many = Executors.newCachedThreadPool();
  private final AtomicLong slowestHealthNs = new AtomicLong();
  private final AtomicLong slowestLiveNs = new AtomicLong();
  private volatile double liveC = 30;
  private volatile boolean over;
  private URI url;

  @Test
  void twoThousandIdsAndSixUploads() throws Exception {
    run(Program.soon(), 2_000, 6, 3_000, LOADED, AT_ONCE_LOADED);
  }

  @Tag("bench")
  @Test
  void twentyThousandIdsAndFiftyUploads() throws Exception {
    run(List.of(), 20_000, 50, 10_000, SOON, AT_ONCE);
  }

  private void run(
      List<String> options, int ids, int uploads, int linesEach, Duration soon, Duration atOnce)
      throws Exception {
    List<String> virtualMachine = new ArrayList<>(options);
    virtualMachine.add("-Xmx512m");
    String data = ReadyFolder.in(folder.resolve("data")).toString();
    try (Program program =
        Program.start(
            virtualMachine, "board at ", List.of("serve", "--data", data, "--port", "0"))) {
      url = URI.create(program.said());
      post(line("LIVE", Instant.now(), liveC));
      CompletableFuture<Void> live = repeat(this::live, 1_000);
      CompletableFuture<Void> health = repeat(this::health, 200);
      TimeUnit.SECONDS.sleep(5);
      List<CompletableFuture<JsonNode>> floods = new ArrayList<>();
      floods.add(CompletableFuture.supplyAsync(() -> post(idFlood(ids)), many));
      for (int i = 0; i < uploads; i++) {
        String recording = recording("REC-" + i, linesEach);
        floods.add(CompletableFuture.supplyAsync(() -> post(recording), many));
      }
      TimeUnit.SECONDS.sleep(1);
      liveC = 70;
      Duration tookToHot = untilHot();
      for (CompletableFuture<JsonNode> flood : floods) {
        flood.get(5, TimeUnit.MINUTES);
      }
      over = true;
      live.get();
      health.get();
      System.out.printf(
          "FloodTest: %d ids, %d uploads of %d lines: hot seen after %d ms, slowest live POST %d"
              + " ms, slowest /health %d ms, resident %.0f MiB%n",
          ids,
          uploads,
          linesEach,
          tookToHot.toMillis(),
          slowestLiveNs.get() / 1_000_000,
          slowestHealthNs.get() / 1_000_000,
          program.residentMib());
      JsonNode flood = floods.get(0).get();
      assertThat(flood.get("accepted").asInt()).isEqualTo(200);
      assertThat(flood.get("new_trackers_rejected").asInt()).isEqualTo(ids - 200);
      for (CompletableFuture<JsonNode> upload : floods.subList(1, floods.size())) {
        assertThat(upload.get().get("accepted").asInt()).isEqualTo(linesEach);
      }
      assertThat(tookToHot).isLessThan(soon);
      assertThat(Duration.ofNanos(slowestHealthNs.get())).isLessThan(atOnce);
    } finally {
      over = true;
      many.shutdownNow();
    }
  }

  private interface Step {
    void run() throws IOException, InterruptedException;
  }

  private CompletableFuture<Void> repeat(Step step, long everyMs) {
    return CompletableFuture.runAsync(
        () -> {
          try {
            while (!over) {
              long beganNs = System.nanoTime();
              step.run();
              long restMs = everyMs - (System.nanoTime() - beganNs) / 1_000_000;
              TimeUnit.MILLISECONDS.sleep(Math.max(0, restMs));
            }
          } catch (IOException e) {
            throw new IllegalStateException(e);
          } catch (InterruptedException e) {
            Thread.currentThread().interrupt();
          }
        },
        many);
  }

  private void live() {
    long beganNs = System.nanoTime();
    post(line("LIVE", Instant.now(), liveC));
    slowestLiveNs.accumulateAndGet(System.nanoTime() - beganNs, Math::max);
  }

  private void health() throws IOException, InterruptedException {
    long beganNs = System.nanoTime();
    HttpResponse<String> answer = get("health");
    slowestHealthNs.accumulateAndGet(System.nanoTime() - beganNs, Math::max);
    assertThat(answer.statusCode()).isEqualTo(200);
  }

  private Duration untilHot() throws IOException, InterruptedException {
    long beganNs = System.nanoTime();
    while (System.nanoTime() - beganNs < TimeUnit.MINUTES.toNanos(2)) {
      HttpResponse<String> answer = get("api/trackers/LIVE/readiness");
      if (answer.statusCode() == 200
          && JSON.readTree(answer.body()).get("state").asText().equals("hot")) {
        break;
      }
      TimeUnit.MILLISECONDS.sleep(50);
    }
    return Duration.ofNanos(System.nanoTime() - beganNs);
  }

  private HttpResponse<String> get(String path) throws IOException, InterruptedException {
    return http.send(
        HttpRequest.newBuilder(url.resolve(path)).build(), HttpResponse.BodyHandlers.ofString());
  }

  private JsonNode post(String lines) {
    try {
      HttpResponse<String> answer =
          http.send(
              HttpRequest.newBuilder(url.resolve("api/samples"))
                  .header("Content-Type", "application/x-ndjson")
                  .POST(BodyPublishers.ofString(lines))
                  .build(),
              HttpResponse.BodyHandlers.ofString());
      assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
      return JSON.readTree(answer.body());
    } catch (IOException e) {
      throw new IllegalStateException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  private static String line(String id, Instant time, double temperatureC) {
    return "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":%s,\"gyro_dps\":[0.1,0.2,0.3]}\n"
        .formatted(id, time.truncatedTo(ChronoUnit.MILLIS), temperatureC);
  }

  private static String idFlood(int ids) {
    StringBuilder lines = new StringBuilder();
    for (int i = 0; i < ids; i++) {
      lines.append(line("FLOOD-" + i, Instant.now(), 25));
    }
    return lines.toString();
  }

  private static String recording(String id, int count) {
    Instant start = Instant.parse("2026-03-01T08:00:00Z");
    StringBuilder lines = new StringBuilder();
    for (int i = 0; i < count; i++) {
      lines.append(line(id, start.plusMillis(20L * i), 25 + i * 1e-4));
    }
    return lines.toString();
  }
}
