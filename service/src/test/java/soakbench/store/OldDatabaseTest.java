package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.withinPercentage;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.charset.StandardCharsets;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.Statement;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.MethodOrderer.OrderAnnotation;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.live.SoakSummary;
import soakbench.live.watch.SoakWatch;
import soakbench.model.LimitsChange;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;

/**
 * A whole database as the program with schema 14 left it, with what that program answered about it:
 * all of it is found again by the program of now.
 */
@Timeout(120)
@TestMethodOrder(OrderAnnotation.class)
class OldDatabaseTest {
  private static final ObjectMapper MAPPER = new ObjectMapper();
  private static final HttpClient CLIENT = HttpClient.newHttpClient();
  private static final String HERON_FIRST = "heron-1@20260101T080000000Z";
  private static final String HERON_OPEN = "heron-1@20260302T080000000Z";
  private static final String PLOVER_FIRST = "plover-2@20260301T080000000Z";

  @TempDir static Path folder;
  private static KillableServer postgres;
  private static Database database;
  private static SoakWatch watch;
  private static ApiServer server;

  @BeforeAll
  static void open() throws Exception {
    postgres = new KillableServer(folder);
    try (Connection connection = postgres.connect();
        Statement statement = connection.createStatement()) {
      statement.execute(text("/old/schema-14.sql"));
    }
    database = Database.open(DatabaseSettings.url(postgres.url()));
    watch = new SoakWatch(database.soakStore(), null, () -> 0);
    watch.restore();
    server = ApiServer.start(ApiSettings.local(0), watch, database, () -> 0);
  }

  @AfterAll
  static void close() throws IOException {
    server.close();
    database.close();
    postgres.close();
  }

  private static String text(String resource) throws IOException {
    try (InputStream in = OldDatabaseTest.class.getResourceAsStream(resource)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  static Stream<Map.Entry<String, JsonNode>> answersOfBefore() throws IOException {
    return MAPPER.readTree(text("/old/schema-14.json")).properties().stream();
  }

  @ParameterizedTest
  @MethodSource("answersOfBefore")
  @Order(1)
  void whatTheOldProgramAnsweredIsAnsweredAgain(Map.Entry<String, JsonNode> before)
      throws Exception {
    String path = before.getKey();
    HttpRequest request = HttpRequest.newBuilder(server.url().resolve(path)).build();
    HttpResponse<String> answer = CLIENT.send(request, BodyHandlers.ofString());
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertSaid(path, before.getValue(), MAPPER.readTree(answer.body()));
  }

  /** What is told no more: a limit, and differences of curves whose sign nobody could tell. */
  private static final Set<String> GONE = Set.of("hold_after_turn_s", "axes_dps");

  /** What is told under another name or in another form: a word why it ended, a power more. */
  private static final Set<String> TOLD_OTHERWISE =
      Set.of("changed", "changes", "coefficients", "covariance", "ended", "use_temperature_c");

  /** Whatever was said is said again; more may be said beside it. */
  private static void assertSaid(String where, JsonNode before, JsonNode now) {
    assertThat(now).as(where).isNotNull();
    if (before.isObject()) {
      before.properties().stream()
          .filter(p -> !GONE.contains(p.getKey()) && !TOLD_OTHERWISE.contains(p.getKey()))
          .forEach(p -> assertSaid(where + "." + p.getKey(), p.getValue(), now.get(p.getKey())));
    } else if (before.isArray()) {
      assertThat(now.size()).as(where).isEqualTo(before.size());
      for (int i = 0; i < before.size(); i++) {
        assertSaid(where + "[" + i + "]", before.get(i), now.get(i));
      }
    } else if (before.isDouble()) {
      // A limit is worked out from the standard error again.
      assertThat(now.doubleValue())
          .as(where)
          .isCloseTo(before.doubleValue(), withinPercentage(1e-10));
    } else {
      assertThat(now).as(where).isEqualTo(before);
    }
  }

  /** The versions are those that the rows were derived by. */
  @Test
  @Order(2)
  void whatIsUpToDateStaysSo() {
    assertThat(database.figures().outdated(3, 100, Set.of())).isEmpty();
    assertThat(database.calibrations().outdated(2, 100, Set.of())).isEmpty();
    assertThat(database.summaries().outdated(1, 100, Set.of())).isEmpty();
  }

  @Test
  @Order(2)
  void whatOfAnotherVersionWasIsDue() {
    try (Database other = Database.prepared(DatabaseSettings.url(postgres.url()))) {
      other.openToRead(step -> {});
      assertThat(other.figures().outdated(4, 100, Set.of())).hasSize(4);
      assertThat(other.calibrations().outdated(3, 100, Set.of())).hasSize(4);
      assertThat(other.summaries().outdated(2, 100, Set.of())).hasSize(3);
    }
  }

  @Test
  @Order(2)
  void whatIsKeptForLaterSoaksIsThere() {
    try (var unit = database.soakStore().beginReading()) {
      List<SoakSummary> all = unit.summaries(10);
      assertThat(all)
          .extracting(SoakSummary::soak)
          .containsExactly(HERON_FIRST, PLOVER_FIRST, "plover-2@20260302T080000000Z");
      assertThat(all.get(1).thermal().timeConstantsS()).hasSize(1);
      assertThat(all.get(1).thermal().timeConstantsS().get(0).value())
          .isEqualTo(299.90371648698357);
    }
  }

  @Test
  @Order(2)
  void limitsAndWhatSoaksWereJudgedByAreThere() {
    assertThat(database.archive().limitsHistory(9))
        .extracting(LimitsChange::origin)
        .containsExactly(LimitsChange.Origin.HTTP, LimitsChange.Origin.DEFAULTS);
    assertThat(database.archive().terms(PLOVER_FIRST).orElseThrow().limits().bandLowC())
        .isEqualTo(28);
    assertThat(database.archive().terms(HERON_OPEN).orElseThrow().limits().bandLowC())
        .isEqualTo(29.5);
  }

  @Test
  @Order(3)
  void theOpenSoakGoesOnWhereItWasLeft() throws Exception {
    String known = "{\"id\":\"heron-1\",\"time\":\"2026-03-02T08:06:38Z\",\"temp_c\":%s}\n";
    String more = "{\"id\":\"heron-1\",\"time\":\"2026-03-02T08:06:40Z\",\"temp_c\":28.625}\n";
    HttpRequest request =
        HttpRequest.newBuilder(server.url().resolve("api/samples"))
            .header("Content-Type", "application/x-ndjson")
            .POST(BodyPublishers.ofString(known.formatted("99") + more))
            .build();
    HttpResponse<String> answer = CLIENT.send(request, BodyHandlers.ofString());
    JsonNode counts = MAPPER.readTree(answer.body());
    assertThat(counts.get("accepted").asInt()).as(answer.body()).isEqualTo(1);
    assertThat(counts.get("conflicting").asInt()).as(answer.body()).isEqualTo(1);
    assertThat(database.archive().soak(HERON_OPEN).orElseThrow().samples()).isEqualTo(260);
  }

  @Test
  @Order(4)
  void allOfItIsDerivedAgainFromWhatIsStored() throws Exception {
    try (Connection connection = postgres.connect();
        Statement statement = connection.createStatement()) {
      statement.execute("UPDATE derived SET content = '7' WHERE soak LIKE 'heron%'");
    }
    assertThat(database.calibrationTable().of("heron-1")).isEmpty();
    assertThat(database.figureTable().of("heron-1")).isEmpty();
    server.derivers().deriveOutdated();
    assertThat(database.calibrationTable().of("heron-1").get(0).check()).isNotNull();
    assertThat(database.calibrationTable().of("plover-2")).hasSize(2);
    assertThat(database.figureTable().of("heron-1")).hasSize(2);
  }
}
