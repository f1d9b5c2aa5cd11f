package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.time.Duration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiSettings;
import soakbench.cli.Serving;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;
import soakbench.store.server.ReadyFolder;

/** A database whose processes stand still: connections stay, answers never come. */
@Timeout(300)
class HangingDatabaseTest {
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  @TempDir private Path folder;

  @Test
  void isSaidWithinTenSecondsAndHoldsNothingThatDoesNotNeedIt() throws Exception {
    Path data = folder.resolve("database");
    try (KillableServer server = new KillableServer(ReadyFolder.in(data));
        Service service =
            Service.start(
                DatabaseSettings.url(server.url()),
                ApiSettings.local(0),
                null,
                new MonotonicClock())) {
      URI url = service.url();
      await().atMost(PATIENCE).until(() -> Serving.get(url.resolve("health")).statusCode() == 200);
      signalAll(data, "STOP");
      try {
        long before = System.nanoTime();
        await()
            .atMost(Duration.ofSeconds(20))
            .pollInterval(Duration.ofMillis(100))
            .until(() -> Serving.get(url.resolve("api/alarms")).body().contains("database_away"));
        Duration said = Duration.ofNanos(System.nanoTime() - before);
        System.out.println("HangingDatabaseTest: said after " + said);
        assertThat(said).isLessThan(Duration.ofSeconds(11));
        for (String path : new String[] {"api/readiness", "api/alarms", "health"}) {
          long asked = System.nanoTime();
          HttpResponse<String> answer = Serving.get(url.resolve(path));
          assertThat(Duration.ofNanos(System.nanoTime() - asked))
              .as(path)
              .isLessThan(Duration.ofSeconds(4));
          assertThat(answer.statusCode()).isEqualTo(path.equals("health") ? 503 : 200);
        }
        JsonNode health = Serving.json(Serving.get(url.resolve("health")));
        assertThat(health.get("since").asText()).startsWith("20");
        assertThat(health.get("detail").asText()).contains("did not answer");
      } finally {
        signalAll(data, "CONT");
      }
      await().atMost(PATIENCE).until(() -> Serving.get(url.resolve("health")).statusCode() == 200);
    }
  }

  private static void signalAll(Path data, String signal) throws Exception {
    // The server first when it is to stand still: it would start others.
    for (ProcessHandle process : KillableServer.processesOn(data)) {
      Serving.signal(process, signal);
    }
  }
}
