package soakbench.api.sheet;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Locale;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.bench.ProcessCost;
import soakbench.bench.ServedProcess;

/**
 * What a sheet of 2,000 cells costs the service that is refreshed once a minute: {@code mvn -B test
 * -Pbench -Dtest=CellCostTest}. The client's own part is not counted; the database's is.
 */
class CellCostTest {
  private static final int TRACKERS = 500;
  private static final List<String> FIGURES =
      List.of("state", "temperature_c", "minutes_to_ready", "greatest_tempco_dps_per_c");

  private static final int WARM_UP = 3;
  private static final int ROUNDS = 5;
  private static final Duration IDLE = Duration.ofSeconds(20);

  /** Processor time of a minute's refresh, s. */
  private static final double MOST_S = 1;

  @TempDir private Path folder;

  private final HttpClient http =
      HttpClient.newBuilder().version(HttpClient.Version.HTTP_1_1).build();

  @Test
  @Tag("bench")
  void twoThousandCellsOnceAMinuteCostLessThanASecond() throws Exception {
    Path data = folder.resolve("data");
    try (ServedProcess service = ServedProcess.start(data, null)) {
      post(service.url());
      long database = ProcessCost.serverOf(data);
      for (int i = 0; i < WARM_UP; i++) {
        refresh(service.url());
      }
      double idlePerS =
          costOf(service, database, () -> Thread.sleep(IDLE.toMillis())) / IDLE.toSeconds();
      long startNs = System.nanoTime();
      double costS =
          costOf(
              service,
              database,
              () -> {
                for (int i = 0; i < ROUNDS; i++) {
                  refresh(service.url());
                }
              });
      double tookS = (System.nanoTime() - startNs) / 1e9;
      double eachS = (costS - idlePerS * tookS) / ROUNDS;
      System.out.printf(
          Locale.ROOT,
          "2,000 cells: %.2f s of processor a refresh, in %.1f s; idle %.3f s a second%n",
          eachS,
          tookS / ROUNDS,
          idlePerS);
      assertThat(eachS).isLessThan(MOST_S);
    }
  }

  private interface Work {
    void run() throws Exception;
  }

  private static double costOf(ServedProcess service, long database, Work work) throws Exception {
    double before = ProcessCost.cpuS(service.pid()) + ProcessCost.cpuOfTreeS(database);
    work.run();
    return ProcessCost.cpuS(service.pid()) + ProcessCost.cpuOfTreeS(database) - before;
  }

  private void refresh(URI service) throws IOException, InterruptedException {
    for (int i = 0; i < TRACKERS; i++) {
      for (String figure : FIGURES) {
        HttpResponse<String> cell =
            http.send(
                HttpRequest.newBuilder(service.resolve("/sheet/cell/B-" + i + "/" + figure))
                    .build(),
                BodyHandlers.ofString());
        assertThat(cell.statusCode()).isEqualTo(200);
      }
    }
  }

  private void post(URI service) throws IOException, InterruptedException {
    Instant start = Instant.now().minusSeconds(40);
    for (int first = 0; first < TRACKERS; first += 100) {
      StringBuilder lines = new StringBuilder();
      for (int i = first; i < first + 100; i++) {
        for (int s = 0; s < 80; s++) {
          lines.append(
              String.format(
                  Locale.ROOT,
                  "{\"id\":\"B-%d\",\"time\":\"%s\",\"temp_c\":%.2f,\"gyro_dps\":[%.4f,0.1,0.2]}%n",
                  i,
                  start.plusMillis(500L * s),
                  24 + 0.01 * s,
                  0.3 + 0.001 * (s % 5)));
        }
      }
      HttpRequest request =
          HttpRequest.newBuilder(service.resolve("/api/samples"))
              .header("Content-Type", "application/x-ndjson")
              .POST(BodyPublishers.ofString(lines.toString()))
              .build();
      assertThat(http.send(request, BodyHandlers.ofString()).statusCode()).isEqualTo(200);
    }
  }
}
