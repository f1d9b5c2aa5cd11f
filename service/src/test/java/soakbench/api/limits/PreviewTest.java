package soakbench.api.limits;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.Javalin;
import java.net.URI;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import java.util.function.Supplier;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.OwnService;
import soakbench.api.Service;
import soakbench.api.WebServer;
import soakbench.api.access.AccessPairing;
import soakbench.api.http.Json;
import soakbench.api.http.Routes;
import soakbench.api.http.Times;
import soakbench.api.http.TrackerNames;
import soakbench.model.Limits;
import soakbench.model.LimitsDraft;
import soakbench.model.Tracker;
import soakbench.store.SoakQuery;

/** What other limits would have said of past soaks. */
class PreviewTest {
  private static final String STRICT = "{\"band_low_c\":30,\"dwell_s\":200}";
  private static final int SOAKS = 5;
  private static final int LINES_PER_S = 5;

  private static OwnService service;

  private static long startUs(int i) {
    return Service.START_US + i * 7_200_000_000L;
  }

  private static void record(OwnService to) {
    for (int i = 0; i < SOAKS; i++) {
      String lines = Lines.warmUp("P-" + i, startUs(i), 300 + 300 * i, LINES_PER_S);
      Http.json(to.http.send("POST", "/api/samples", "application/x-ndjson", lines), "Upload");
      to.http.send(
          "PUT", "/api/trackers/P-" + i, "application/json", "{\"lot\":\"" + i % 2 + "\"}");
    }
    to.http
        .json("/api/soaks", "SoakList")
        .get("soaks")
        .forEach(s -> end(to, s.get("soak").asText()));
  }

  private static void end(OwnService to, String soak) {
    Http.json(to.http.send("POST", "/api/soaks/" + soak + "/end", null, ""), "Soak");
  }

  @BeforeAll
  static void start() {
    service = new OwnService(null);
    record(service);
  }

  @AfterAll
  static void stop() {
    service.close();
  }

  private static HttpResponse<String> post(String path, String body) {
    return service.http.send("POST", path, "application/json", body);
  }

  private static JsonNode preview(String query, String body) {
    return Http.json(post("/api/limits/preview" + query, body), "Preview");
  }

  private static List<String> trackers(JsonNode preview) {
    List<String> ids = new ArrayList<>();
    preview.get("soaks").forEach(s -> ids.add(s.get("tracker").asText()));
    return ids;
  }

  @Test
  void itAgreesWithSoaksThatWereReallyJudgedByTheseLimits() {
    JsonNode would = preview("", STRICT);
    assertThat(would.at("/limits/band_low_c").asDouble()).isEqualTo(30);
    assertThat(would.get("differences")).hasSize(2);
    LimitsDraft strict = new LimitsDraft(Limits.DEFAULT);
    strict.set("band_low_c", 30);
    strict.set("dwell_s", 200);
    try (OwnService other = new OwnService(strict.limits())) {
      record(other);
      JsonNode really =
          Http.json(
              other.http.send(
                  "POST", "/api/limits/preview", "application/json", Json.write(Limits.DEFAULT)),
              "Preview");
      assertThat(would.get("soaks")).hasSize(SOAKS);
      for (int i = 0; i < SOAKS; i++) {
        JsonNode here = would.get("soaks").get(i);
        JsonNode there = really.get("soaks").get(i);
        assertThat(here.get("soak")).isEqualTo(there.get("soak"));
        assertThat(here.get("proposed")).isEqualTo(there.get("own"));
        assertThat(here.get("own")).isEqualTo(there.get("proposed"));
      }
      assertThat(would.at("/summary/proposed")).isEqualTo(really.at("/summary/own"));
    }
  }

  @Test
  void itTellsWhatChangesForEachSoakAndInSum() {
    JsonNode summary = preview("", STRICT).get("summary");
    assertThat(summary.get("judged").asInt()).isEqualTo(SOAKS);
    assertThat(summary.get("not_judged").asInt()).isZero();
    assertThat(summary.get("not_judged_reason").isNull()).isTrue();
    assertThat(summary.get("ready_later").asInt() + summary.get("ready_lost").asInt()).isPositive();
    assertThat(summary.get("ready_earlier").asInt() + summary.get("ready_gained").asInt()).isZero();
    assertThat(summary.at("/proposed/ready_s").asDouble())
        .isLessThan(summary.at("/own/ready_s").asDouble());
  }

  @Test
  void theFiguresAreThoseOfTheTimeline() {
    JsonNode row = preview("?tracker=P-4", "{}").get("soaks").get(0);
    JsonNode timeline =
        service
            .http
            .json("/api/soaks/" + row.get("soak").asText() + "/timeline", "Timeline")
            .get("timeline");
    JsonNode ready = null;
    for (JsonNode entry : timeline) {
      ready = ready == null && entry.get("state").asText().equals("ready") ? entry : ready;
    }
    assertThat(ready).isNotNull();
    assertThat(row.at("/own/first_ready")).isEqualTo(ready.get("time"));
    assertThat(row.at("/own/state_changes").asInt()).isEqualTo(timeline.size() - 1);
    assertThat(row.get("proposed")).isEqualTo(row.get("own"));
    assertThat(timeline.get(timeline.size() - 1)).isEqualTo(ready);
    double readyS =
        (Times.parse(row.get("end").asText()).orElseThrow()
                - Times.parse(ready.get("time").asText()).orElseThrow())
            / 1e6;
    assertThat(row.at("/own/ready_s").asDouble()).isEqualTo(readyS);
  }

  @Test
  void itChangesNothing() {
    JsonNode limits = service.http.json("/api/limits", "LimitsInForce");
    String soak = service.http.json("/api/soaks", "SoakList").at("/soaks/0/soak").asText();
    String timeline = service.http.get("/api/soaks/" + soak + "/timeline").body();
    preview("", STRICT);
    assertThat(service.http.json("/api/limits", "LimitsInForce")).isEqualTo(limits);
    assertThat(service.http.get("/api/soaks/" + soak + "/timeline").body()).isEqualTo(timeline);
  }

  @Test
  void whatIsAskedForIsNarrowedAndBoundedAndWhatIsLeftOutIsTold() {
    assertThat(trackers(preview("?lot=1", "{}"))).containsExactly("P-3", "P-1");
    assertThat(trackers(preview("?to=2026-03-01T08:30:00Z", "{}"))).containsExactly("P-0");
    assertThat(trackers(preview("?from=2026-03-01T15:00:00Z", "{}"))).containsExactly("P-4");
    assertThat(trackers(preview("?tracker=nobody", "{}"))).isEmpty();
    JsonNode first = preview("?limit=2", STRICT);
    assertThat(trackers(first)).containsExactly("P-4", "P-3");
    assertThat(first.at("/summary/not_judged").asInt()).isEqualTo(3);
    assertThat(first.at("/summary/not_judged_reason").asText()).contains("more than limit=2");
    JsonNode second = Http.json(post(first.get("next").asText(), STRICT), "Preview");
    assertThat(trackers(second)).containsExactly("P-2", "P-1");
    JsonNode last = Http.json(post(second.get("next").asText(), STRICT), "Preview");
    assertThat(trackers(last)).containsExactly("P-0");
    assertThat(last.get("next").isNull()).isTrue();
  }

  @Test
  void whenTheTimeIsUpTheRestIsLeftOut() {
    var soaks = service.database.archive().soaks(SoakQuery.newest(10));
    TrackerNames names = new TrackerNames(List::of);
    Preview none = new Preview(service.database.archive(), names, Limits.DEFAULT, Duration.ZERO);
    List<PreviewRow> rows = none.rows(soaks);
    // One soak is always judged, so that a page goes on.
    assertThat(rows).hasSize(1);
    assertThat(none.timeIsUp()).isTrue();
    PreviewSummary summary = PreviewSummary.of(rows, soaks.size(), "time");
    assertThat(summary.notJudged()).isEqualTo(SOAKS - 1);
    assertThat(summary.notJudgedReason()).isEqualTo("time");
  }

  @Test
  void onlyOneIsMadeAtATime() throws Exception {
    CountDownLatch begun = new CountDownLatch(1);
    CountDownLatch goOn = new CountDownLatch(1);
    TrackerNames slow = new TrackerNames(() -> waiting(begun, goOn));
    Javalin other =
        Javalin.create(
                config -> {
                  WebServer.configure(
                      config,
                      ApiSettings.local(0),
                      new AccessPairing(ApiSettings.local(0).access()));
                  new PreviewCalls(service.database.archive(), service.watch, slow)
                      .addTo(new Routes(config.routes));
                })
            .start();
    try {
      Http http = new Http(URI.create("http://127.0.0.1:" + other.port() + "/"));
      Supplier<HttpResponse<String>> ask =
          () -> http.send("POST", "/api/limits/preview?limit=1", "application/json", "{}");
      CompletableFuture<HttpResponse<String>> first = CompletableFuture.supplyAsync(ask);
      assertThat(begun.await(60, TimeUnit.SECONDS)).isTrue();
      HttpResponse<String> second = ask.get();
      Http.problem(second, 503, "busy");
      assertThat(second.headers().firstValue("Retry-After")).hasValue("5");
      goOn.countDown();
      Http.json(first.get(60, TimeUnit.SECONDS), "Preview");
      Http.json(ask.get(), "Preview");
    } finally {
      goOn.countDown();
      other.stop();
    }
  }

  private static List<Tracker> waiting(CountDownLatch begun, CountDownLatch goOn) {
    begun.countDown();
    try {
      assertThat(goOn.await(60, TimeUnit.SECONDS)).isTrue();
    } catch (InterruptedException e) {
      throw new IllegalStateException(e);
    }
    return List.of();
  }

  @Test
  void itIsATableToo() {
    HttpResponse<String> answer = post("/api/limits/preview.csv?limit=2", STRICT);
    String[] lines = Http.csv(answer).split("\r\n");
    assertThat(lines).hasSize(3);
    assertThat(lines[0])
        .isEqualTo(
            "soak,tracker,name,lot,start,end,ended,own_first_ready,own_ready_s,own_state_changes,"
                + "proposed_first_ready,proposed_ready_s,proposed_state_changes,reason");
    assertThat(lines[1]).startsWith("P-4@20260301T160000000Z,P-4,P-4,0,2026-03-01T16:00:00Z,");
    assertThat(answer.headers().firstValue("Link").orElseThrow())
        .startsWith("</api/limits/preview.csv?after=P-3");
    var accepting =
        service
            .http
            .request(
                "/api/limits/preview", "Accept", "text/csv", "Content-Type", "application/json")
            .POST(java.net.http.HttpRequest.BodyPublishers.ofString("{}"));
    assertThat(Http.csv(service.http.send(accepting.build())).split("\r\n")).hasSize(SOAKS + 1);
  }

  @Test
  void limitsWithMistakesAreRefusedAsWhenTheyArePut() {
    JsonNode problem =
        Http.problem(post("/api/limits/preview", "{\"alpha\":1}"), 422, "invalid-content");
    assertThat(problem.get("detail").asText()).startsWith("No soak was judged again.");
    Http.problem(post("/api/limits/preview", "alpha: 1"), 400, "invalid-request");
    Http.problem(post("/api/limits/preview?limit=201", "{}"), 400, "invalid-request");
    Http.problem(post("/api/limits/preview?after=none", "{}"), 400, "invalid-request");
    Http.problem(post("/api/limits/preview?from=yesterday", "{}"), 400, "invalid-request");
  }
}
