package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.sql.Connection;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.api.ApiSettings;
import soakbench.cli.Serving;
import soakbench.model.RackSet;
import soakbench.store.SharedServer;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** What people tell one of two services about trackers of the other. */
@Timeout(300)
class SideBySideTest {
  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final DatabaseSettings DATABASE = SharedServer.empty();
  private static final Instant START = Instant.now().minusSeconds(90);
  private static final String WHY = "{\"reason\":\"the folder of another lot\"}";

  private static Service ofA;
  private static Service ofC;

  @BeforeAll
  static void start() {
    ofA = opened("A");
    ofC = opened("C");
  }

  @AfterAll
  static void stop() {
    ofA.close();
    ofC.close();
  }

  private static Service opened(String rack) {
    Service service =
        Service.opened(
            DatabaseSettings.url(SharedServer.url(DATABASE)),
            ApiSettings.local(0),
            null,
            new MonotonicClock(),
            null,
            Role.WRITES,
            RackSet.of(List.of(rack)));
    service.begin(step -> {}, () -> {});
    return service;
  }

  private static HttpResponse<String> send(
      Service to, String method, String path, String type, String body) throws Exception {
    return Serving.send(
        HttpRequest.newBuilder(to.url().resolve(path))
            .header("Content-Type", type)
            .method(method, BodyPublishers.ofString(body))
            .build());
  }

  private static JsonNode json(Service to, String method, String path, String body)
      throws Exception {
    HttpResponse<String> answer = send(to, method, path, "application/json", body);
    assertThat(answer.statusCode()).as(answer.body()).isLessThan(300);
    return Serving.json(answer);
  }

  private static void put(Service to, String tracker, String rack, String rates) throws Exception {
    String entry = "{\"rack\":\"%s\",\"rates\":\"%s\"}".formatted(rack, rates);
    json(to, "PUT", "api/trackers/" + tracker, entry);
  }

  private static String lines(String tracker, Instant start, int seconds) {
    StringBuilder lines = new StringBuilder();
    for (int i = 0; i < 2 * seconds; i++) {
      lines.append(
          "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":25.5,\"gyro_dps\":[0.3,-0.1,0.1]}\n"
              .formatted(tracker, start.plusMillis(i * 500L)));
    }
    return lines.toString();
  }

  private static void post(Service to, String tracker) {
    String body = lines(tracker, START, 60);
    await()
        .atMost(PATIENCE)
        .until(
            () ->
                Serving.json(send(to, "POST", "api/samples", "application/x-ndjson", body))
                        .path("rejected")
                        .asInt(-1)
                    == 0);
  }

  private static List<String> texts(String sql, Object... values) throws Exception {
    try (Connection c = SharedServer.connect(DATABASE)) {
      return Query.list(c, rows -> rows.getString(1), sql, values);
    }
  }

  @Test
  void ratesThatOneIsToldAreDerivedByAtTheOtherWithoutDelay() throws Exception {
    put(ofA, "C-1", "C", "unknown");
    post(ofC, "C-1");
    String rates =
        "SELECT basis->>'rates' FROM derived WHERE kind = 'figures' AND soak LIKE 'C-1@%'";
    await().atMost(PATIENCE).until(() -> texts(rates).equals(List.of("unknown")));
    put(ofA, "C-1", "C", "follows");
    await().atMost(PATIENCE).until(() -> texts(rates).equals(List.of("follows")));
  }

  @Test
  void limitsForSoaksUnderWayThatOneIsToldJudgeThoseOfTheOtherAgain() throws Exception {
    put(ofA, "C-2", "C", "raw");
    post(ofC, "C-2");
    await()
        .atMost(PATIENCE)
        .until(() -> !texts("SELECT id FROM soak WHERE tracker = 'C-2'").isEmpty());
    String soak = texts("SELECT id FROM soak WHERE tracker = 'C-2'").get(0);
    JsonNode answer = json(ofA, "PUT", "api/limits?now=true", "{\"band_low_c\": 27}");
    assertThat(answer.get("note").asText()).as(answer.toString()).contains("other racks", soak);
    assertThat(answer.get("judged_again")).isEmpty();
    await()
        .atMost(PATIENCE)
        .untilAsserted(
            () -> {
              HttpResponse<String> its =
                  Serving.get(ofC.url().resolve("api/soaks/" + soak + "/limits"));
              assertThat(Serving.json(its).at("/limits/band_low_c").asInt())
                  .as(its.body() + texts("SELECT id || ' ' || coalesce(ended, '') FROM soak"))
                  .isEqualTo(27);
            });
  }

  @Test
  void aTrackerIsNotMergedIntoOneThatTheOtherWritesFor() throws Exception {
    put(ofA, "A-3", "A", "raw");
    put(ofC, "C-3", "C", "raw");
    String merge = "{\"into\":\"C-3\",\"reason\":\"the label was misread\"}";
    await()
        .atMost(PATIENCE)
        .untilAsserted(
            () -> {
              HttpResponse<String> answer =
                  send(ofA, "POST", "api/trackers/A-3/merge", "application/json", merge);
              assertThat(answer.statusCode()).isEqualTo(409);
              assertThat(answer.body())
                  .contains("C-3 is on rack C", "process ", "on the same rack in the roster first");
            });
    assertThat(texts("SELECT id::text FROM tracker_merge")).isEmpty();
  }

  @Test
  void anImportIsTakenOutByEachOfThemForItsOwnTrackers() throws Exception {
    put(ofA, "A-4", "A", "raw");
    put(ofA, "B-4", "C", "raw");
    put(ofA, "C-4", "C", "raw");
    long id = json(ofA, "POST", "api/imports?sender=both", "").get("import").asLong();
    for (String tracker : List.of("A-4", "B-4", "C-4")) {
      bring(tracker.equals("A-4") ? ofA : ofC, id, tracker);
    }
    put(ofA, "C-4", "A", "raw");
    String undo = "api/imports/" + id + "/undo";
    String left = "SELECT DISTINCT tracker FROM import_part ORDER BY tracker";
    await()
        .atMost(PATIENCE)
        .untilAsserted(
            () -> {
              HttpResponse<String> answer = send(ofA, "POST", undo, "application/json", WHY);
              assertThat(answer.statusCode()).as(answer.body()).isEqualTo(409);
              assertThat(answer.body()).contains("Undo it there as well", "B-4 is on rack C");
              assertThat(texts(left)).containsExactly("B-4");
            });
    assertThat(texts("SELECT DISTINCT tracker FROM sample WHERE tracker LIKE '%-4'"))
        .containsExactly("B-4");
    assertThat(json(ofC, "POST", undo, WHY).get("stage").asText()).isEqualTo("undone");
    assertThat(texts("SELECT DISTINCT tracker FROM sample WHERE tracker LIKE '%-4'")).isEmpty();
  }

  private static void bring(Service to, long id, String tracker) {
    String path = "api/imports/" + id + "/recordings?file=" + tracker + ".jsonl";
    String recording = lines(tracker, START.minusSeconds(86_400), 20);
    await()
        .atMost(PATIENCE)
        .until(
            () ->
                Serving.json(send(to, "POST", path, "application/octet-stream", recording))
                        .path("rejected")
                        .asInt(-1)
                    == 0);
  }
}
