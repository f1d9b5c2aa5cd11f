package soakbench.api.http;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.OwnService;
import soakbench.api.Service;
import soakbench.live.figures.FigureDeriver;
import soakbench.model.Limits;

/** Every table of trackers is narrowed by lot and rack, and a misspelt name narrows nothing. */
class TrackerFilterTest {
  private static final long START_US = Service.START_US;

  /** Each table and where its rows name their tracker. */
  private static final Map<String, String> TABLES =
      Map.of(
          "/api/readiness", "trackers/tracker",
          "/api/trackers", "trackers/id",
          "/api/soaks", "soaks/tracker",
          "/api/figures", "figures/tracker",
          "/api/calibrations", "calibrations/tracker",
          "/api/alarms", "alarms/tracker");

  private static final Map<String, String> SCHEMAS =
      Map.of(
          "/api/readiness", "ReadinessList",
          "/api/trackers", "TrackerList",
          "/api/soaks", "SoakList",
          "/api/figures", "FiguresList",
          "/api/calibrations", "CalibrationList",
          "/api/alarms", "AlarmList");

  private static OwnService service;

  @BeforeAll
  static void threeTrackers() {
    service = new OwnService(Limits.DEFAULT);
    service.http.send(
        "PUT",
        "/api/trackers",
        "text/csv",
        "id,lot,rack\nW-1,L7,north\nW-2,L7,south\nW-3,L8,north\n");
    for (String id : List.of("W-1", "W-2", "W-3")) {
      // The end is hot, for an alarm.
      String lines =
          Lines.steady(id, START_US, 1200)
              + Lines.steady(id, START_US + 120_000_000L, 600)
                  .replace("\"temp_c\":24.50", "\"temp_c\":75.00");
      JsonNode answer =
          Http.json(
              service.http.send("POST", "/api/samples", "application/x-ndjson", lines), "Upload");
      assertThat(answer.get("accepted").asInt()).isEqualTo(1800);
      service.http.send("POST", "/api/trackers/" + id + "/calibrations", "application/json", "{}");
    }
    service.watch.tick();
    new FigureDeriver(service.database.figures()).deriveOutdated();
  }

  @AfterAll
  static void close() {
    service.close();
  }

  private static List<String> json(String path, String query) {
    String[] where = TABLES.get(path).split("/");
    JsonNode answer = service.http.json(path + query, SCHEMAS.get(path));
    List<String> ids = new ArrayList<>();
    answer.get(where[0]).forEach(row -> ids.add(row.get(where[1]).asText()));
    return ids.stream().filter(id -> !id.equals("null")).distinct().sorted().toList();
  }

  private static List<String> csv(String path, String query) {
    List<String> lines = List.of(Http.csv(service.http.get(path + ".csv" + query)).split("\r\n"));
    String name = TABLES.get(path).split("/")[1];
    int column = List.of(lines.get(0).split(",")).indexOf(name);
    return lines.stream()
        .skip(1)
        .map(line -> line.split(",", -1)[column])
        .filter(id -> !id.isEmpty())
        .distinct()
        .sorted()
        .toList();
  }

  private static void assertTrackers(String query, String... ids) {
    for (String path : TABLES.keySet()) {
      assertThat(json(path, query)).as(path + query).containsExactly(ids);
      assertThat(csv(path, query)).as(path + ".csv" + query).containsExactly(ids);
    }
  }

  @Test
  void everyTableIsNarrowedByLotAndRackInBothForms() {
    assertTrackers("", "W-1", "W-2", "W-3");
    assertTrackers("?lot=L7", "W-1", "W-2");
    assertTrackers("?rack=north", "W-1", "W-3");
    assertTrackers("?rack=north&lot=L7", "W-1");
  }

  @Test
  void theirSoaksAreJudgedThroughTheHeat() {
    for (JsonNode tracker :
        service.http.json("/api/readiness", SCHEMAS.get("/api/readiness")).get("trackers")) {
      assertThat(tracker.get("state").asText()).isEqualTo("hot");
      assertThat(tracker.toString()).doesNotContain("mistake");
    }
  }

  @Test
  void anUnknownValueGivesNoRows() {
    assertTrackers("?lot=L9");
    assertTrackers("?rack=North");
    assertTrackers("?rack=south&lot=L8");
  }

  @Test
  void whatMakesAnAddressNewForACacheIsPassedOver() {
    assertTrackers("?t=123&_=7&cb=99&nocache=1&x=&lot=L8", "W-3");
  }

  @Test
  void aMisspeltParameterIsRefusedWithTheNearestName() {
    for (String path : TABLES.keySet()) {
      for (String misspelt :
          List.of("lott=L7", "Lot=L7", "racks=north", "rak=1", "decimals=comma")) {
        for (String form : List.of("", ".csv")) {
          JsonNode problem =
              Http.problem(service.http.get(path + form + "?" + misspelt), 400, "invalid-request");
          assertThat(problem.get("detail").asText()).contains("; did you mean \"");
          assertThat(problem.at("/problems/0/field").asText())
              .isEqualTo(misspelt.substring(0, misspelt.indexOf('=')));
        }
      }
    }
    assertThat(service.http.get("/api/alarms?opne=true").body())
        .contains("did you mean \\\"open\\\"?");
  }

  @Test
  void theNextPageKeepsTheRack() {
    JsonNode page = service.http.json("/api/soaks?rack=north&limit=1", "SoakList");
    assertThat(page.get("next").asText()).contains("rack=north");
    JsonNode last = service.http.json(page.get("next").asText(), "SoakList");
    assertThat(last.get("soaks")).hasSize(1);
    assertThat(last.get("next").isNull()).isTrue();
  }
}
