package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Duration;
import java.time.Instant;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiSettings;
import soakbench.live.StoreException;
import soakbench.store.DatabaseSettings;
import soakbench.store.KillableServer;

/** Services on one database: one of them writes. */
@Timeout(300)
class TwoServicesTest {
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  @TempDir private Path folder;
  private KillableServer server;

  @BeforeEach
  void open() {
    server = new KillableServer(folder.resolve("database"));
  }

  @AfterEach
  void close() throws Exception {
    server.close();
  }

  private Service opened(Role role) {
    DatabaseSettings settings = DatabaseSettings.url(server.url());
    return Service.opened(settings, ApiSettings.local(0), null, new MonotonicClock(), null, role);
  }

  private Service started(Role role) {
    Service service = opened(role);
    service.begin(step -> {}, () -> {});
    return service;
  }

  @Test
  void aSecondWriterSaysWhoWritesAndEnds() {
    try (Service first = started(Role.WRITES);
        Service second = opened(Role.WRITES)) {
      assertThatThrownBy(() -> second.begin(step -> {}, () -> {}))
          .isInstanceOf(StoreException.class)
          .hasMessageContainingAll(
              "another Soakbench writes to",
              "process " + ProcessHandle.current().pid() + " on ",
              "since 20",
              "--read-only or --standby")
          .hasMessageNotContaining("password=p");
      assertThat(first.database().writer()).isPresent();
    }
  }

  @Test
  void aReaderShowsWhatTheWriterStoresAndChangesNothing() throws Exception {
    try (Service writer = started(Role.WRITES);
        Service reader = started(Role.READS)) {
      assertThat(post(writer.url(), 0).statusCode()).isEqualTo(200);
      await().atMost(PATIENCE).until(() -> trackers(reader.url()).size() == 1);
      post(writer.url(), 100);
      await()
          .atMost(PATIENCE)
          .until(
              () -> asOf(reader.url()).equals(asOf(writer.url())) && !asOf(reader.url()).isEmpty());
      JsonNode health = Serving.json(Serving.get(reader.url().resolve("health")));
      assertThat(health.get("mode").asText()).isEqualTo("reads");
      assertThat(health.get("writer").asText())
          .contains("process " + ProcessHandle.current().pid());
      HttpResponse<String> refused = post(reader.url(), 200);
      assertThat(refused.statusCode()).isEqualTo(409);
      assertThat(refused.body()).contains("only reads what another one writes");
      assertThatThrownBy(() -> reader.watch().tick()).hasMessageContaining("only reads");
      writer.close();
      await()
          .atMost(PATIENCE)
          .until(
              () ->
                  Serving.get(reader.url().resolve("health")).body().contains("No service writes"));
    }
  }

  @Test
  void oneThatStandsByTakesOverWhenTheWriterIsGone() throws Exception {
    Service writer = started(Role.WRITES);
    try (Service next = started(Role.STANDS_BY)) {
      assertThat(post(writer.url(), 0).statusCode()).isEqualTo(200);
      assertThat(post(next.url(), 100).statusCode()).isEqualTo(409);
      writer.close();
      await().atMost(PATIENCE).until(() -> post(next.url(), 100).statusCode() == 200);
      await()
          .atMost(PATIENCE)
          .until(() -> Serving.get(next.url().resolve("health")).body().contains("\"writes\""));
    } finally {
      writer.close();
    }
  }

  @Test
  void aWriterWhoseLockIsLostWritesNothingUntilItHasItAgain() throws Exception {
    try (Service writer = started(Role.WRITES);
        Connection connection = server.connect();
        Statement statement = connection.createStatement()) {
      assertThat(post(writer.url(), 0).statusCode()).isEqualTo(200);
      ResultSet ended =
          statement.executeQuery(
              "SELECT pg_terminate_backend(pid), pg_advisory_lock(x'50ab'::int, 1)"
                  + " FROM pg_stat_activity WHERE application_name LIKE 'soakbench-writer %'");
      ended.next();
      // Another holds it now; the writer may not have noticed yet that its own connection is gone.
      HttpResponse<String> answer = post(writer.url(), 100);
      assertThat(answer.statusCode()).as(answer.body()).isEqualTo(503);
      await()
          .atMost(PATIENCE)
          .until(() -> Serving.get(writer.url().resolve("health")).statusCode() == 503);
      statement.execute("SELECT pg_advisory_unlock_all()");
      await().atMost(PATIENCE).until(() -> post(writer.url(), 100).statusCode() == 200);
    }
  }

  private static HttpResponse<String> post(URI url, int from) throws Exception {
    StringBuilder lines = new StringBuilder();
    Instant start = Instant.now().minusSeconds(60);
    for (int i = from; i < from + 100; i++) {
      lines.append(
          "{\"id\":\"W-1\",\"time\":\"%s\",\"seq\":%d,\"temp_c\":25.5,\"gyro_dps\":[0.3,-0.1,0.1]}\n"
              .formatted(start.plusMillis(i * 500L), i));
    }
    return Serving.send(
        HttpRequest.newBuilder(url.resolve("api/samples"))
            .header("Content-Type", "application/x-ndjson")
            .POST(HttpRequest.BodyPublishers.ofString(lines.toString()))
            .build());
  }

  private static JsonNode trackers(URI url) throws Exception {
    return Serving.json(Serving.get(url.resolve("api/readiness"))).get("trackers");
  }

  private static String asOf(URI url) throws Exception {
    return trackers(url).path(0).path("as_of").asText();
  }
}
