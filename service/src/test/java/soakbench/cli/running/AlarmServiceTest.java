package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicLong;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.LogLines;
import soakbench.WarmUps;
import soakbench.api.ApiSettings;
import soakbench.api.alarms.AlarmWebhook;
import soakbench.api.http.Json;
import soakbench.cli.Asked;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/** Alarms of a whole service, with an address that takes them, told by the clock of its data. */
@Timeout(120)
class AlarmServiceTest {
  private static final Instant START = Instant.parse("2026-03-02T08:00:00Z");

  /** Ready since five minutes: so they become after 856 s. */
  private static final int READY_S = 1200;

  private static final Duration PATIENCE = Duration.ofSeconds(60);

  private final AtomicLong nowUs = new AtomicLong(START.toEpochMilli() * 1000);
  private final List<String> posted = new CopyOnWriteArrayList<>();
  private final DatabaseSettings settings = SharedServer.empty();
  private HttpServer hook;
  private Service service;
  private Asked asked;

  @BeforeEach
  void serve() throws IOException {
    hook = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    hook.createContext(
        "/",
        exchange -> {
          posted.add(new String(exchange.getRequestBody().readAllBytes()));
          exchange.sendResponseHeaders(204, -1);
          exchange.close();
        });
    hook.start();
    start();
  }

  private void start() {
    URI url = URI.create("http://127.0.0.1:" + hook.getAddress().getPort() + "/");
    service =
        Service.start(
            settings, ApiSettings.local(0), null, nowUs::get, new AlarmWebhook(url, () -> null));
    asked = new Asked(service.url());
  }

  @AfterEach
  void stop() {
    service.close();
    hook.stop(0);
  }

  private void soak(String id, int fromS, int toS, double plateauC) throws Exception {
    asked.send(
        "POST",
        "api/samples",
        "application/x-ndjson",
        WarmUps.lines(id, START, fromS, toS, 20, plateauC));
  }

  private void placed(String id, String name, String slot) throws Exception {
    String entry = "{\"name\":\"%s\",\"rack\":\"window\",\"slot\":\"%s\",\"rates\":\"raw\"}";
    asked.send("PUT", "api/trackers/" + id, "application/json", entry.formatted(name, slot));
  }

  private List<JsonNode> alarms(String query) {
    JsonNode list = asked.json("api/alarms" + query).get("alarms");
    return StreamSupport.stream(list.spliterator(), false).toList();
  }

  @Test
  void aPostedAlarmAndTheConsoleNameTheUnitAsTheTableDoes() throws Exception {
    placed("T-9", "Kestrel", "W3");
    try (LogLines log = new LogLines("soakbench.api.alarms.AlarmLog")) {
      soak("T-9", 0, 400, 60);
      await().atMost(PATIENCE).until(() -> !posted.isEmpty());
      JsonNode alarm = Json.mapper().readTree(posted.get(0)).get("alarm");
      assertThat(alarm.get("name").asText()).isEqualTo("Kestrel");
      assertThat(alarm.get("slot").asText()).isEqualTo("W3");
      assertThat(alarm.get("rack").asText()).isEqualTo("window");
      assertThat(alarms("?state=open")).contains(alarm);
      assertThat(alarms("?state=ended")).isEmpty();
      assertThat(log.lines().get(0)).contains("Kestrel, slot W3");
    }
  }

  @Test
  void aRackThatFallsSilentIsOneAlarmWithoutWhatWasCalibratedAndKept() throws Exception {
    for (int i = 1; i <= 4; i++) {
      placed("R-" + i, "Unit " + i, "W" + i);
      soak("R-" + i, READY_S - 100, READY_S + 80, 31);
    }
    placed("Kept", "Heron", "W5");
    soak("Kept", 0, READY_S, 31);
    asked.send("POST", "api/trackers/Kept/calibrations", "application/json", "{}");
    soak("Kept", READY_S, READY_S + 80, 31);
    await().atMost(PATIENCE).until(() -> step("Kept").equals("keep"));
    assertThat(alarms("")).isEmpty();

    nowUs.addAndGet(15_000_000L);
    await().atMost(PATIENCE).until(() -> alarms("").size() == 1);
    JsonNode alarm = alarms("").get(0);
    assertThat(alarm.get("kind").asText()).isEqualTo("rack_silent");
    assertThat(alarm.get("rack").asText()).isEqualTo("window");
    assertThat(alarm.get("tracker").isNull()).isTrue();
    assertThat(alarm.get("message").asText()).contains("4 of 4 trackers of rack window");
    nowUs.addAndGet(6_000_000L);
    await().during(Duration.ofSeconds(2)).until(() -> alarms("").size() == 1);
    assertThat(asked.json("api/trackers/Kept/readiness").get("state").asText()).isEqualTo("silent");
    assertThat(step("Kept")).as("nothing is left to do with it").isEqualTo("keep");
    assertThat(step("R-1")).isEqualTo("null");
    assertThat(asked.csv("api/readiness.csv")).contains(",next_step,minutes_to_ready", ",keep,");

    for (int i = 1; i <= 4; i++) {
      soak("R-" + i, READY_S + 100, READY_S + 105, 31);
    }
    nowUs.addAndGet(1_000_000L);
    await()
        .atMost(PATIENCE)
        .until(
            () -> {
              nowUs.addAndGet(500_000L);
              for (int i = 1; i <= 4; i++) {
                soak("R-" + i, second(), second() + 1, 31);
              }
              return alarms("?state=open").isEmpty();
            });
    assertThat(alarms("?state=ended")).hasSize(1);
  }

  @Test
  void aStartAfterWhatWasCalibratedWasTakenOffRaisesNothing() throws Exception {
    for (int i = 1; i <= 3; i++) {
      placed("Off-" + i, "Unit " + i, "W" + i);
      soak("Off-" + i, 0, READY_S, 31);
      asked.send("POST", "api/trackers/Off-" + i + "/calibrations", "application/json", "{}");
      soak("Off-" + i, READY_S, READY_S + 80, 31);
    }
    for (int i = 1; i <= 3; i++) {
      String tracker = "Off-" + i;
      await().atMost(PATIENCE).until(() -> step(tracker).equals("keep"));
    }
    nowUs.addAndGet(15_000_000L);
    for (int i = 1; i <= 3; i++) {
      String timeline = "api/soaks/Off-" + i + "@20260302T080000000Z/timeline.csv";
      await().atMost(PATIENCE).until(() -> asked.csv(timeline).contains("silent"));
    }
    service.close();
    nowUs.addAndGet(60_000_000L);
    start();
    await()
        .atMost(PATIENCE)
        .until(() -> asked.csv("api/readiness.csv").split(",silent,").length == 4);
    for (int i = 0; i < 5; i++) {
      await().during(Duration.ofMillis(1_200)).until(() -> alarms("").isEmpty());
      nowUs.addAndGet(10_000_000L);
    }
    assertThat(posted).isEmpty();
  }

  /** Of the soaks, by the service's clock. */
  private int second() {
    return (int) ((nowUs.get() / 1000 - START.toEpochMilli()) / 1000) + READY_S + 100;
  }

  private String step(String tracker) {
    return asked.json("api/trackers/" + tracker + "/readiness").get("next_step").asText();
  }

  @Test
  void alarmsAreDatedByTheClockThatTheBoardShows() throws Exception {
    // Samples of the morning, while the service's own clock shows the afternoon.
    nowUs.addAndGet(Duration.ofHours(6).toNanos() / 1000);
    for (int second = 400; second < 420; second++) {
      soak("T-2", second, second + 1, 60);
      nowUs.addAndGet(1_000_000L);
    }
    await().atMost(PATIENCE).until(() -> !alarms("").isEmpty());
    Instant since = Instant.parse(alarms("").get(0).get("since").asText());
    Instant board = Instant.parse(asked.json("api/trackers/T-2/readiness").get("as_of").asText());
    assertThat(since).isBetween(START, board.plusSeconds(5));
  }
}
