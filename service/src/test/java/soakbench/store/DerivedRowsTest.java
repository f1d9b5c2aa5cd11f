package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.QuickStop;
import soakbench.demo.lines.LineBuffer;
import soakbench.demo.simulation.HandlingRuns;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulatedTracker;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Handling;
import soakbench.live.SoakSummary;
import soakbench.live.figures.SummaryDeriver;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.connection.Query;
import soakbench.store.server.DatabaseSettings;

/** Rows of another release, or damaged ones: they heal by themselves, and harm no other tracker. */
@Timeout(120)
class DerivedRowsTest {
  private static final ObjectMapper MAPPER = new ObjectMapper();
  private static final HttpClient CLIENT = HttpClient.newHttpClient();
  private static final String HURT = "R-hurt";
  private static final String WELL = "R-well";

  private static DatabaseSettings settings;
  private static Database database;
  private static SoakWatch watch;
  private static ApiServer server;
  private static String soak;

  @BeforeAll
  static void record() throws Exception {
    settings = SharedServer.empty();
    open();
    for (String id : List.of(HURT, WELL)) {
      post("api/samples", lines(id));
      post("api/soaks/" + soakOf(id) + "/end", "");
    }
    soak = soakOf(HURT);
    derive();
    assertThat(figures(HURT)).isNotNull();
    assertThat(marks(HURT)).isNotEmpty();
  }

  private static void open() {
    database = Database.open(settings);
    watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
    server = QuickStop.of(ApiServer.start(ApiSettings.local(0), watch, database, () -> 0));
    watch.restore();
  }

  @AfterAll
  static void close() throws IOException {
    server.close();
    database.close();
  }

  private static String lines(String id) {
    Recipe recipe = HandlingRuns.of(Handling.Kind.SIX_POSES, 11, true, true, Correction.NONE);
    SimulatedTracker tracker = new SimulatedTracker(recipe);
    LineBuffer line = new LineBuffer();
    StringBuilder all = new StringBuilder();
    while (tracker.nextUs() != Long.MAX_VALUE) {
      tracker.next(line);
      all.append(new String(line.bytes(), 0, line.length(), StandardCharsets.UTF_8));
      line.clear();
    }
    return all.toString().replace("\"" + recipe.unit().id() + "\"", "\"" + id + "\"");
  }

  private static String soakOf(String id) throws Exception {
    return json("api/soaks?tracker=" + id).get("soaks").get(0).get("soak").asText();
  }

  private static void post(String path, String body) throws Exception {
    HttpRequest request =
        HttpRequest.newBuilder(server.url().resolve(path))
            .header("Content-Type", "application/x-ndjson")
            .POST(BodyPublishers.ofString(body))
            .build();
    HttpResponse<String> answer = CLIENT.send(request, BodyHandlers.ofString());
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
  }

  /** What a call answers that must succeed. */
  private static JsonNode json(String path) throws Exception {
    HttpRequest request = HttpRequest.newBuilder(server.url().resolve(path)).build();
    HttpResponse<String> answer = CLIENT.send(request, BodyHandlers.ofString());
    assertThat(answer.statusCode()).as("%s: %s", path, answer.body()).isEqualTo(200);
    return MAPPER.readTree(answer.body());
  }

  private static void sql(String sql, Object... values) throws SQLException {
    try (Connection connection = SharedServer.connect(settings)) {
      assertThat(Query.change(connection, sql, values)).as(sql).isPositive();
    }
  }

  /** Makes another of what is kept of the soak. */
  private static void spoil(String kind, String content) throws SQLException {
    sql(
        "UPDATE derived SET content = (" + content + ")::jsonb WHERE kind = ? AND soak = ?",
        kind,
        soak);
  }

  /** One round, as the service has one every two seconds. */
  private static void derive() {
    server.derivers().deriveOutdated();
  }

  /** A tracker's row of the table; null where it has none. */
  private static JsonNode figures(String id) throws Exception {
    for (JsonNode row : json("api/figures").get("figures")) {
      if (row.get("tracker").asText().equals(id)) {
        return row;
      }
    }
    return null;
  }

  private static JsonNode marks(String id) throws Exception {
    return json("api/trackers/" + id + "/calibrations").get("calibrations");
  }

  private static List<String> marked() throws Exception {
    return json("api/calibrations").get("calibrations").findValuesAsText("tracker");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "content - 'axes'",
        "content #- '{axes,1,biasDps}'",
        "jsonb_set(content, '{axes}', 'null')",
        "jsonb_set(content, '{axes,2}', 'null')",
        "jsonb_set(content, '{useC}', '\"warm\"')",
        "jsonb_set(content, '{plateauC}', '[1, 2]')",
        "jsonb_set(content, '{useC}', 'null')",
        "'\"rubbish\"'",
        "'[]'",
        "'7'",
        "'null'"
      })
  void figuresThatCannotBeReadAreDerivedAnewAlone(String spoilt) throws Exception {
    JsonNode before = figures(HURT);
    JsonNode well = figures(WELL);
    spoil("figures", spoilt);
    assertThat(figures(HURT)).isNull();
    assertThat(figures(WELL)).isEqualTo(well);
    json("api/trackers/" + WELL + "/figures");
    derive();
    assertThat(figures(HURT)).isEqualTo(before);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "jsonb_set(content, '{0,status}', '\"DREAMT\"')",
        "jsonb_set(content, '{0,origin}', '2')",
        "jsonb_set(content, '{0,status}', 'null')",
        "jsonb_set(content, '{0,atUs}', '\"noon\"')",
        "jsonb_set(content, '{0,handling,faces}', '\"six\"')",
        "jsonb_set(content, '{0,check}', '{}')",
        "content #- '{0,handling,kind}'",
        "content #- '{0,soak}'",
        "'[null]'",
        "'[[]]'",
        "'{\"a\": 1}'",
        "'\"rubbish\"'",
        "'null'"
      })
  void calibrationsThatCannotBeReadAreDerivedAnewAlone(String spoilt) throws Exception {
    JsonNode before = marks(HURT);
    JsonNode well = marks(WELL);
    spoil("calibrations", spoilt);
    assertThat(marked()).containsExactly(WELL);
    assertThat(marks(HURT)).isEmpty();
    assertThat(marks(WELL)).isEqualTo(well);
    json("api/figures");
    derive();
    assertThat(marks(HURT)).isEqualTo(before);
    assertThat(marked()).containsExactlyInAnyOrder(HURT, WELL);
  }

  @Test
  void whatANewerReleaseWroteMoreDoesNotMatter() throws Exception {
    JsonNode figures = figures(HURT);
    JsonNode marks = marks(HURT);
    spoil("figures", "jsonb_set(jsonb_set(content, '{dreamt}', '[1]'), '{axes,0,dreamt}', '{}')");
    spoil("calibrations", "jsonb_set(content, '{0,dreamt}', '7')");
    assertThat(figures(HURT)).isEqualTo(figures);
    assertThat(marks(HURT)).isEqualTo(marks);
    assertThat(server.derivers().figures().deriveOutdated()).isZero();
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "content - 'plateauC'",
        "jsonb_set(content, '{coolings}', '[{}]')",
        "jsonb_set(content, '{timeConstantsS}', '7')",
        "'null'"
      })
  void whatIsKeptForLaterSoaksIsDerivedAnewAfterARestart(String spoilt) throws Exception {
    SoakSummary before = summary();
    spoil("summary", spoilt);
    watch.restore();
    derive();
    assertThat(summary()).isEqualTo(before);
    sql("UPDATE derived SET version = 0 WHERE kind = 'summary' AND soak = ?", soak);
    spoil("summary", "'{}'");
    try (Database other = Database.prepared(settings)) {
      other.openToRead(step -> {});
      assertThat(other.summaries().outdated(SummaryDeriver.VERSION, 9, java.util.Set.of()))
          .containsExactly(soak);
    }
    watch.restore();
    derive();
    assertThat(summary()).isEqualTo(before);
  }

  private static SoakSummary summary() {
    try (var unit = database.soakStore().begin()) {
      return unit.summaries(9).stream().filter(s -> s.soak().equals(soak)).findFirst().orElse(null);
    }
  }

  /** What a tracker is judged by is not derived, so it does not heal by itself. */
  @Test
  void aTrackerThatCannotBeDerivedIsToldAndTheOthersGoOn() throws Exception {
    JsonNode marks = marks(HURT);
    assertThat(json("health").at("/figures/state").asText()).isEqualTo("ok");
    sql("UPDATE soak_terms SET limits = jsonb_set(limits, '{use_temperature_c}', 'null')");
    sql("UPDATE soak_terms SET limits = '{}' WHERE soak = ?", soakOf(WELL));
    sql("UPDATE derived SET version = 1 WHERE kind = 'figures'");
    sql("UPDATE derived SET version = 1, content = '[]' WHERE kind = 'calibrations'");
    // As after a restart: nothing is noted any more.
    server.close();
    database.close();
    open();
    derive();
    assertThat(marks(WELL)).isNotEmpty();
    assertThat(figures(WELL)).isNotNull();
    JsonNode health = json("health");
    assertThat(health.get("status").asText()).isEqualTo("trouble");
    assertThat(health.at("/figures/state").asText()).isEqualTo("failing");
    assertThat(health.at("/figures/soaks").asInt()).isEqualTo(2);
    assertThat(health.at("/figures/reason").asText()).contains(soak);
    JsonNode answer = json("api/trackers/" + HURT + "/calibrations");
    assertThat(answer.get("reason").asText()).contains(soak);
    assertThat(json("api/trackers/" + WELL + "/calibrations").get("reason").isNull()).isTrue();
    sql("UPDATE soak_terms SET limits = '{}'");
    assertThat(server.derivers().figures().deriveOutdated()).as("it rests").isZero();
    for (int round = 0; round < 15; round++) {
      derive();
    }
    assertThat(marks(HURT)).hasSameSizeAs(marks);
    assertThat(json("health").at("/figures/state").asText()).isEqualTo("ok");
  }
}
