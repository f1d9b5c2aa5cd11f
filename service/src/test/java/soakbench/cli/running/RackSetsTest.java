package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.TreeMap;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.ApiSettings;
import soakbench.cli.Serving;
import soakbench.demo.PseudoTerminal;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.model.RackSet;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/** Two services that write to one database, each for racks of its own. */
@Timeout(300)
class RackSetsTest {
  private static final Duration PATIENCE = Duration.ofSeconds(90);

  @TempDir private Path folder;
  private final DatabaseSettings database = SharedServer.empty();
  private final Instant start = Instant.now().minusSeconds(90);
  private Service ofA;
  private Service ofC;

  private Service opened(String... racks) {
    DatabaseSettings settings = DatabaseSettings.url(SharedServer.url(database));
    return Service.opened(
        settings,
        ApiSettings.local(0),
        null,
        new MonotonicClock(),
        null,
        Role.WRITES,
        RackSet.of(List.of(racks)));
  }

  @BeforeEach
  void start() throws Exception {
    ofA = opened("A", "B");
    ofA.begin(step -> {}, () -> {});
    ofC = opened("C", "-");
    ofC.begin(step -> {}, () -> {});
    put("A-1", "A");
    put("C-1", "C");
  }

  @AfterEach
  void stop() {
    ofA.close();
    ofC.close();
  }

  @Test
  void eachTakesWhatLiesOnItsRacksAndSaysWhoTakesTheRest() throws Exception {
    String lines = lines("A-1", 0, 40) + lines("C-1", 0, 40) + lines("N-1", 0, 40);
    await().atMost(PATIENCE).until(() -> post(ofA, lines).path("rejected").asInt(-1) == 80);
    JsonNode toA = post(ofA, lines);
    assertThat(toA.get("duplicate").asInt()).isEqualTo(40);
    assertThat(toA.at("/problems/0/elsewhere").asBoolean()).isTrue();
    assertThat(toA.at("/problems/0/reason").asText())
        .contains("C-1 is on rack C, for which this service does not write", "process ", "rack C");
    assertThat(toA.at("/problems/40/reason").asText())
        .contains("N-1 is on no rack", "for trackers without a rack");
    await().atMost(PATIENCE).until(() -> post(ofC, lines).path("accepted").asInt(-1) == 80);
    await().atMost(PATIENCE).until(() -> trackers(ofC).equals(List.of("C-1", "N-1")));
    assertThat(trackers(ofA)).containsExactly("A-1");
    assertThat(json(ofA, "health").get("writes_for").asText()).isEqualTo("racks A, B");
  }

  @Test
  void aTrackerThatIsMovedGoesOnWithItsSoakAtTheOther() throws Exception {
    await()
        .atMost(PATIENCE)
        .until(() -> post(ofA, lines("A-1", 0, 40)).path("rejected").asInt(-1) == 0);
    await().atMost(PATIENCE).until(() -> trackers(ofA).equals(List.of("A-1")));
    put("A-1", "C");
    await()
        .atMost(PATIENCE)
        .until(() -> post(ofC, lines("A-1", 40, 80)).path("accepted").asInt() == 40);
    // The one batch in which it finds out is refused as a whole, to be sent again.
    await()
        .atMost(PATIENCE)
        .until(() -> post(ofA, lines("A-1", 80, 120)).path("rejected").asInt(-1) == 40);
    await().atMost(PATIENCE).until(() -> trackers(ofC).equals(List.of("A-1")));
    assertThat(trackers(ofA)).isEmpty();
    JsonNode soaks = json(ofC, "api/soaks?tracker=A-1").get("soaks");
    assertThat(soaks).hasSize(1);
    String soak = soaks.at("/0/soak").asText();
    await()
        .atMost(PATIENCE)
        .until(() -> json(ofC, "api/soaks?tracker=A-1").at("/soaks/0/samples").asInt() == 80);
    HttpResponse<String> end = end(ofA, soak);
    assertThat(end.statusCode()).isEqualTo(409);
    assertThat(end.body()).contains("A-1 is on rack C", "send it to the one that does");
    HttpResponse<String> ended = end(ofC, soak);
    assertThat(ended.statusCode()).as(ended.body() + json(ofC, "api/soaks")).isEqualTo(200);
  }

  @Test
  void aTrackerThatIsListedNowhereIsPutOnTheRackOnWhichAnAgentReadsIt() throws Exception {
    put("N-3", "C");
    ofC.close();
    ofC = opened("C");
    ofC.begin(step -> {}, () -> {});
    try (PseudoTerminal device = new PseudoTerminal();
        Serving agent = agent(device)) {
      await()
          .atMost(PATIENCE)
          .pollInterval(Duration.ofMillis(100))
          .until(
              () -> {
                device.write(line("N-2") + line("N-3"));
                return soaks("N-2") == 1 && soaks("N-3") == 1 || !agent.process.isAlive();
              });
      assertThat(rackOf("N-2")).as(agent.text()).isEqualTo("B");
      assertThat(rackOf("N-3")).isEqualTo("C");
      assertThat(trackers(ofA)).contains("N-2").doesNotContain("N-3");
    }
  }

  /** It knows both services, first the one that writes for other racks than its own. */
  private Serving agent(PseudoTerminal device) throws IOException {
    Path rack =
        Files.writeString(
            folder.resolve("rack.yaml"), "rack: B\nslots:\n  B1: {port: " + device.path() + "}\n");
    return Serving.command(
        folder.resolve("agent.txt"),
        "agent",
        "--rack",
        rack.toString(),
        "--spool",
        folder.resolve("agent.db").toString(),
        "--to",
        ofC.url().toString(),
        "--to",
        ofA.url().toString());
  }

  private static String line(String tracker) {
    return "{\"id\":\"" + tracker + "\",\"temp_c\":25.5,\"gyro_dps\":[0.3,-0.1,0.1]}\n";
  }

  @Test
  void aTrackerThatIsListedNowhereIsPutOnTheRackAtWhosePortItIsRead() throws Exception {
    put("N-5", "");
    try (PseudoTerminal device = new PseudoTerminal()) {
      RackFile rack = new RackFile("B", List.of(new RackFile.Slot("B1", device.path())));
      ofA.read(rack, SqliteSpool.open(folder.resolve("spool.db"), 1 << 24));
      await()
          .atMost(PATIENCE)
          .pollInterval(Duration.ofMillis(100))
          .until(
              () -> {
                device.write(line("N-4") + line("N-5"));
                return rackOf("N-4").equals("B") && rackOf("N-5").equals("B");
              });
      await().atMost(PATIENCE).until(() -> soaks("N-4") == 1 && soaks("N-5") == 1);
      assertThat(trackers(ofA)).contains("N-4", "N-5");
    }
  }

  private String rackOf(String tracker) throws Exception {
    return json(ofA, "api/trackers/" + tracker).path("rack").asText("");
  }

  private int soaks(String tracker) throws Exception {
    return json(ofA, "api/soaks?tracker=" + tracker).path("soaks").size();
  }

  @Test
  void figuresAreDerivedByWhoWritesForTheRackAndReadByBoth() throws Exception {
    await()
        .atMost(PATIENCE)
        .until(() -> post(ofA, lines("A-1", 0, 120)).path("rejected").asInt(-1) == 0);
    await().atMost(PATIENCE).until(() -> !json(ofC, "api/figures").path("figures").isEmpty());
    assertThat(ofC.database().figures().outdated(-1, 10, java.util.Set.of())).isEmpty();
  }

  @Test
  void limitsThatOnePutsHoldForTheOthersSoaks() throws Exception {
    HttpResponse<String> put =
        Serving.send(
            HttpRequest.newBuilder(ofA.url().resolve("api/limits"))
                .header("Content-Type", "application/json")
                .PUT(HttpRequest.BodyPublishers.ofString("{\"band_low_c\": 29}"))
                .build());
    assertThat(put.statusCode()).as(put.body()).isEqualTo(200);
    await().atMost(PATIENCE).until(() -> ofC.watch().limits().bandLowC() == 29);
  }

  @Test
  void oneWhoseRacksAreWrittenForAlreadySaysWhichAndEnds() {
    try (Service late = opened("B", "D")) {
      assertThatThrownBy(() -> late.begin(step -> {}, () -> {}))
          .hasMessageContainingAll("another Soakbench writes to", "for rack B", "for other racks");
    }
  }

  private void put(String tracker, String rack) throws Exception {
    HttpResponse<String> answer =
        Serving.send(
            HttpRequest.newBuilder(ofC.url().resolve("api/trackers/" + tracker))
                .header("Content-Type", "application/json")
                .PUT(HttpRequest.BodyPublishers.ofString("{\"rack\": \"" + rack + "\"}"))
                .build());
    assertThat(answer.statusCode()).as(answer.body()).isLessThan(300);
  }

  private String lines(String tracker, int from, int to) {
    StringBuilder lines = new StringBuilder();
    for (int i = from; i < to; i++) {
      lines.append(
          "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":25.5,\"gyro_dps\":[0.3,-0.1,0.1]}\n"
              .formatted(tracker, start.plusMillis(i * 500L)));
    }
    return lines.toString();
  }

  private static JsonNode post(Service service, String lines) throws Exception {
    return Serving.json(
        Serving.send(
            HttpRequest.newBuilder(service.url().resolve("api/samples"))
                .header("Content-Type", "application/x-ndjson")
                .POST(HttpRequest.BodyPublishers.ofString(lines))
                .build()));
  }

  private static HttpResponse<String> end(Service service, String soak) throws Exception {
    URI end = service.url().resolve("api/soaks/" + soak + "/end");
    return Serving.send(
        HttpRequest.newBuilder(end).POST(HttpRequest.BodyPublishers.noBody()).build());
  }

  private static JsonNode json(Service service, String path) throws Exception {
    return Serving.json(Serving.get(service.url().resolve(path)));
  }

  private static List<String> trackers(Service service) throws Exception {
    TreeMap<String, String> states = new TreeMap<>();
    json(service, "api/readiness")
        .get("trackers")
        .forEach(t -> states.put(t.get("tracker").asText(), t.get("state").asText()));
    return List.copyOf(states.keySet());
  }
}
