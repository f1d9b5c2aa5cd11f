package soakbench.api.access;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.io.IOException;
import java.net.URLEncoder;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.http.Json;
import soakbench.api.soaks.SoakTest;

/** Text that means something to a database, a file system or a page stays text; a real database. */
@ExtendWith(Service.Running.class)
class AccessTextTest {
  private static final List<String> TEXT_FIELDS =
      List.of("name", "lot", "imu", "board", "rack", "slot", "note");

  static List<String> statements() {
    return List.of(
        "'; DROP TABLE tracker; --",
        "' OR '1'='1",
        "1); DELETE FROM sample; --",
        "\\'; SELECT pg_sleep(5); --",
        "$$; TRUNCATE soak CASCADE; $$",
        "%' UNION SELECT version() --",
        "\"; COPY tracker TO '/tmp/x' --",
        "E'\\\\x27' || (SELECT 1/0)",
        "?1 :name {fn now()} /* */");
  }

  private static void requireAllThere(Service service, int trackers) {
    assertThat(service.http.json("/health", "Health").get("status").asText()).isEqualTo("ok");
    assertThat(service.database.roster().all()).hasSize(trackers);
    assertThat(service.http.json("/api/soaks?tracker=S-kept", "SoakList").get("soaks")).hasSize(1);
  }

  @ParameterizedTest
  @MethodSource("statements")
  void aStatementInTheRosterIsTextInEveryField(String statement, Service service) {
    SoakTest.send(service, Lines.steady("S-kept", Service.START_US, 30));
    ObjectNode body = Json.mapper().createObjectNode();
    TEXT_FIELDS.forEach(field -> body.put(field, statement));
    HttpResponse<String> put =
        service.http.send("PUT", "/api/trackers/S-text", "application/json", body.toString());
    JsonNode stored = Http.json(put, "Tracker");
    JsonNode read = service.http.json("/api/trackers/S-text", "Tracker");
    for (String field : TEXT_FIELDS) {
      assertThat(stored.get(field).asText()).as(field).isEqualTo(statement);
      assertThat(read.get(field).asText()).as(field).isEqualTo(statement);
    }
    requireAllThere(service, service.database.roster().all().size());
  }

  @ParameterizedTest
  @MethodSource("statements")
  void aStatementInACsvCellIsTextInEveryColumn(String statement, Service service) {
    SoakTest.send(service, Lines.steady("S-kept", Service.START_US, 30));
    String cell = "\"" + statement.replace("\"", "\"\"") + "\"";
    String csv =
        "id,"
            + String.join(",", TEXT_FIELDS)
            + "\nS-csv"
            + ("," + cell).repeat(TEXT_FIELDS.size())
            + "\n";
    Http.json(service.http.send("PUT", "/api/trackers", "text/csv", csv), "RosterChanges");
    JsonNode read = service.http.json("/api/trackers/S-csv", "Tracker");
    TEXT_FIELDS.forEach(field -> assertThat(read.get(field).asText()).isEqualTo(statement));
  }

  @ParameterizedTest
  @MethodSource("statements")
  void aStatementInAnAddressFindsNothingAndHarmsNothing(String statement, Service service) {
    SoakTest.send(service, Lines.steady("S-kept", Service.START_US, 30));
    int trackers = service.database.roster().all().size();
    String asked = URLEncoder.encode(statement, StandardCharsets.UTF_8).replace("+", "%20");
    List<String> paths = new ArrayList<>();
    for (String parameter : List.of("tracker", "lot", "after", "from", "to", "limit", "decimal")) {
      paths.add("/api/soaks?" + parameter + "=" + asked);
      paths.add("/api/soaks.csv?" + parameter + "=" + asked);
    }
    String inPath = asked.replace("%2F", "x").replace("%5C", "x").replace("%3F", "x");
    for (String rest : List.of("", "/timeline", "/bins", "/samples.csv", "/warm-up", "/heading")) {
      paths.add("/api/soaks/" + inPath + rest);
    }
    paths.add("/api/trackers/" + inPath);
    paths.add("/api/trackers/" + inPath + "/readiness");
    paths.add("/api/trackers?dry_run=" + asked);
    for (String path : paths) {
      HttpResponse<String> answer = service.http.get(path);
      assertThat(answer.statusCode()).as(path).isIn(200, 400, 404);
      assertThat(answer.body()).as(path).doesNotContain("PSQLException");
      if (path.matches(".*[?](tracker|lot)=.*")) {
        assertThat(answer.body()).as(path).doesNotContain("S-kept@");
      }
    }
    requireAllThere(service, trackers);
  }

  @ParameterizedTest
  @MethodSource("statements")
  void aStatementInASampleLineIsRefusedAsAnId(String statement, Service service) {
    SoakTest.send(service, Lines.steady("S-kept", Service.START_US, 30));
    int trackers = service.database.roster().all().size();
    ObjectNode line = Json.mapper().createObjectNode();
    line.put("id", statement).put("time", "2026-03-01T08:00:00Z").put("temp_c", 24.0);
    line.putArray("gyro_dps").add(0.1).add(0.2).add(0.3);
    JsonNode upload =
        Http.json(
            service.http.send("POST", "/api/samples", "application/x-ndjson", line + "\n"),
            "Upload");
    assertThat(upload.get("accepted").asInt()).isZero();
    ObjectNode boot = Json.mapper().createObjectNode();
    boot.put("id", "S-kept").put("boot", statement).put("t_ms", 5).put("temp_c", 24.0);
    Http.json(
        service.http.send("POST", "/api/samples", "application/x-ndjson", boot + "\n"), "Upload");
    requireAllThere(service, trackers);
  }

  @Test
  void aByteThatNoDatabaseTextHoldsIsRefusedInASentence(Service service) {
    for (String field : TEXT_FIELDS) {
      HttpResponse<String> answer =
          service.http.send(
              "PUT",
              "/api/trackers/S-nul",
              "application/json",
              "{\"" + field + "\":\"a\\u0000b\"}");
      assertThat(answer.statusCode()).as(field + ": " + answer.body()).isIn(400, 422);
    }
    for (String path :
        List.of("/api/soaks?tracker=a%00b", "/api/soaks?lot=a%00b", "/api/soaks?after=a%00b")) {
      Http.problem(service.http.get(path), 400, "invalid-request");
    }
    String csv = "id,note\nS-nul,a\0b\n";
    Http.problem(
        service.http.send("PUT", "/api/trackers", "text/csv", csv), 422, "invalid-content");
    String soak = "/api/soaks/a%00b/bins";
    assertThat(service.http.get(soak).statusCode()).isEqualTo(400);
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/../pom.xml",
        "/%2e%2e/logback.xml",
        "/..%2flogback.xml",
        "/css/..%2f..%2flogback.xml",
        "/css/%2e%2e/%2e%2e/logback.xml",
        "/css/..%5c..%5clogback.xml",
        "/css/..;/..;/logback.xml",
        "/%252e%252e/logback.xml",
        "//logback.xml",
        "/logback.xml",
        "/openapi.yaml/../logback.xml",
        "/lib/uplot/..%2f..%2f..%2f..%2flogback.xml",
        "/lib/uplot/%2e%2e/%2e%2e/%2e%2e/pom.xml",
        "/lib/uplot/../../../../META-INF/MANIFEST.MF",
        "/META-INF/MANIFEST.MF",
        "/..\\logback.xml",
        "/etc/passwd",
        "//etc/passwd",
        "/file:/etc/passwd",
        "/css/%c0%ae%c0%ae/logback.xml",
        "/migrations/common/",
        "/soakbench/cli/Main.class",
        "/css/",
        "/js",
        "/lib/uplot/",
        "/./",
        "/dashboards/index.html"
      })
  void noAddressLeadsOutOfThePages(String path, Service service) throws IOException {
    String answer =
        Guarded.bare(service.http.base(), "GET " + path + " HTTP/1.1\r\nHost: localhost\r\n");
    assertThat(answer).as(path).startsWith("HTTP/1.1 ").doesNotContain("<configuration>", "root:");
    assertThat(answer).doesNotContain("Manifest-Version", "<modelVersion>", "CREATE TABLE");
    String[] parts = answer.split("\r\n\r\n", 2);
    boolean page = parts[1].contains("<title>Soakbench</title>");
    assertThat(page || parts[0].matches("(?s)HTTP/1.1 40[04] .*")).as(answer).isTrue();
  }
}
