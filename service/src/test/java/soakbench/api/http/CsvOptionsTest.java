package soakbench.api.http;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.time.ZoneId;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;

/** How a table is asked for in the form that a spreadsheet, or a program, wants. */
@ExtendWith(Service.Running.class)
class CsvOptionsTest {
  private static final String ID = "O-1";

  private static String soak;

  @BeforeAll
  static void record(Service service) {
    service.http.send(
        "PUT",
        "/api/trackers",
        "text/csv",
        "id,name,lot,temperature_offset_c\nO-1,=1+1,O7,-0.125\n");
    SoakTest.send(service, Lines.steady(ID, Service.START_US, 300));
    soak = SoakTest.soakOf(service, ID);
    service.http.send("POST", "/api/soaks/" + soak + "/end", null, "");
  }

  private static String csv(Service service, String path) {
    return Http.csv(service.http.get(path));
  }

  @Test
  void columnsAreChosenByNameInTheirOrder(Service service) {
    assertThat(csv(service, "/api/trackers.csv?lot=O7&columns=temperature_offset_c,id,name"))
        .isEqualTo("temperature_offset_c,id,name\r\n-0.12500,O-1,'=1+1\r\n");
  }

  @Test
  void everyColumnThatIsNotKnownIsNamedWithTheNearest(Service service) {
    JsonNode problem =
        Http.problem(
            service.http.get("/api/trackers.csv?columns=id,nmae,lott,id"), 400, "invalid-request");
    assertThat(problem.get("problems")).hasSize(3);
    assertThat(problem.get("problems").toString())
        .contains("did you mean \\\"name\\\"?", "did you mean \\\"lot\\\"?", "\\\"id\\\" twice");
    JsonNode ofJson =
        Http.problem(service.http.get("/api/trackers?columns=id"), 400, "invalid-request");
    assertThat(ofJson.get("detail").asText()).contains("/api/trackers.csv");
  }

  @Test
  void theDecimalCommaAndTheSeparatorAreThoseAskedFor(Service service) {
    String table = "/api/trackers.csv?lot=O7&columns=id,temperature_offset_c";
    assertThat(csv(service, table + "&decimal=comma")).endsWith("O-1;-0,12500\r\n");
    assertThat(csv(service, table + "&decimal=comma&separator=tab")).endsWith("O-1\t-0,12500\r\n");
    assertThat(csv(service, table + "&separator=semicolon")).endsWith("O-1;-0.12500\r\n");
    for (String refused : List.of("&decimal=comma&separator=comma", "&separator=pipe")) {
      Http.problem(service.http.get(table + refused), 400, "invalid-request");
    }
  }

  @Test
  void timesAreDatesOfTheZoneThatTheTableNames(Service service) {
    String table = "/api/soaks.csv?tracker=O-1";
    assertThat(csv(service, table + "&columns=start")).endsWith("2026-03-01T08:00:00Z\r\n");
    assertThat(csv(service, table + "&columns=soak,start,zone&dates=local&zone=Asia/Kolkata"))
        .endsWith(",2026-03-01 13:30:00,Asia/Kolkata\r\n");
    assertThat(csv(service, table + "&dates=local").split("\r\n"))
        .satisfies(
            rows -> {
              assertThat(rows[0]).endsWith(",zone");
              assertThat(rows[1]).endsWith("," + ZoneId.systemDefault().getId());
            });
    assertThat(csv(service, table + "&columns=start&dates=local&zone=%2B02:00"))
        .endsWith("2026-03-01 10:00:00\r\n");
    assertThat(csv(service, "/api/trackers.csv?lot=O7&dates=local"))
        .as("a table without times")
        .doesNotContain("zone");
    for (String refused : List.of("&dates=local&zone=Atlantis", "&zone=UTC", "&dates=german")) {
      Http.problem(service.http.get(table + refused), 400, "invalid-request");
    }
  }

  @Test
  void truthIsToldByWordsOrByNumbersThatEveryLanguageReads(Service service) {
    String table = "/api/soaks/" + soak + "/timeline.csv?columns=revised";
    assertThat(csv(service, table)).startsWith("revised\r\nfalse\r\n");
    assertThat(csv(service, table + "&truth=number")).startsWith("revised\r\n0\r\n");
  }

  @Test
  void aByteOrderMarkGoesFirstWhereItIsAskedFor(Service service) {
    String table = "/api/trackers.csv?lot=O7&columns=id";
    assertThat(csv(service, table + "&bom=true")).isEqualTo("\uFEFFid\r\nO-1\r\n");
    assertThat(csv(service, table)).isEqualTo("id\r\nO-1\r\n");
  }

  @Test
  void rowsOlderThanAskedForAreLeftOut(Service service) {
    String table = "/api/soaks.csv?tracker=O-1&columns=tracker&since=";
    assertThat(csv(service, table + "2026-03-01T08:00:10Z").lines()).hasSize(2);
    assertThat(csv(service, table + "2026-03-01T09:00:00Z").lines()).hasSize(1);
    Http.problem(
        service.http.get(table + "2026-03-01T09:00:00Z&from=2026-03-01T09:00:00Z"),
        400,
        "invalid-request");
  }

  @Test
  void aTableIsAFileWithTheNameOfItsAddress(Service service) {
    assertThat(CsvAnswer.fileName("/api/soaks/T-1@2026:x/bins.csv"))
        .isEqualTo("soaks-T-1-2026-x-bins.csv");
    assertThat(CsvAnswer.fileName("/api/trackers")).isEqualTo("trackers.csv");
    assertThat(service.http.get("/api/trackers.csv").headers().firstValue("Content-Disposition"))
        .hasValue("attachment; filename=\"trackers.csv\"");
  }

  @Test
  void whoHasATableAlreadyIsToldSoUntilItChanges(Service service) {
    String table = "/api/trackers.csv?lot=O8";
    service.http.send("PUT", "/api/trackers/O-tag", "application/json", "{\"lot\":\"O8\"}");
    String tag = tag(service.http.get(table));
    HttpResponse<String> again = service.http.get(table, "If-None-Match", "\"other\", " + tag);
    assertThat(again.statusCode()).isEqualTo(304);
    assertThat(again.body()).isEmpty();
    assertThat(service.http.get(table + "&columns=id", "If-None-Match", tag).statusCode())
        .isEqualTo(200);
    service.http.send("PATCH", "/api/trackers/O-tag", "application/json", "{\"note\":\"new\"}");
    HttpResponse<String> changed = service.http.get(table, "If-None-Match", tag);
    assertThat(changed.statusCode()).isEqualTo(200);
    assertThat(tag(changed)).isNotEqualTo(tag);
  }

  @Test
  void aSoakThatEndedIsNotReadAgainForWhoHasIt(Service service) {
    for (String form : List.of("bins.csv", "samples.csv", "bins", "samples", "bins.csv?points=5")) {
      String path = "/api/soaks/" + soak + "/" + form;
      HttpResponse<String> first = service.http.get(path);
      assertThat(first.headers().firstValue("Cache-Control")).hasValue("private, no-cache");
      HttpResponse<String> again = service.http.get(path, "If-None-Match", tag(first));
      assertThat(again.statusCode()).as(path).isEqualTo(304);
      assertThat(again.body()).isEmpty();
    }
    String csv = tag(service.http.get("/api/soaks/" + soak + "/bins", "Accept", "text/csv"));
    assertThat(tag(service.http.get("/api/soaks/" + soak + "/bins"))).isNotEqualTo(csv);
  }

  @Test
  void aSoakThatGoesOnHasNoTag(Service service) {
    SoakTest.send(service, Lines.steady("O-open", Service.START_US, 100));
    String open = SoakTest.soakOf(service, "O-open");
    HttpResponse<String> bins = service.http.get("/api/soaks/" + open + "/bins.csv");
    assertThat(bins.headers().firstValue("ETag")).isEmpty();
    assertThat(bins.headers().firstValue("Cache-Control")).hasValue("no-store");
  }

  private static String tag(HttpResponse<String> answer) {
    assertThat(answer.statusCode()).isEqualTo(200);
    return answer.headers().firstValue("ETag").orElseThrow();
  }
}
