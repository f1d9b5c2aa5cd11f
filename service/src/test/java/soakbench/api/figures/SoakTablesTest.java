package soakbench.api.figures;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;

/** The figures of one soak as tables, and how little it costs to ask again. */
@ExtendWith(Service.Running.class)
class SoakTablesTest {
  private static final List<String> PARTS = List.of("value", "se", "low", "high");
  private static final String OUTSIDE_QUOTES = ",(?=([^\"]*\"[^\"]*\")*[^\"]*$)";
  private static final String ENDED = "ST-ended";
  private static final String YOUNG = "ST-young";
  private static String soak;
  private static String young;

  @BeforeAll
  static void record(Service service) {
    SoakTest.send(service, Lines.warmUp(ENDED, Service.START_US, 1800));
    SoakTest.send(service, Lines.warmUp(YOUNG, Service.START_US, 20));
    soak = "/api/soaks/" + SoakTest.soakOf(service, ENDED);
    young = "/api/soaks/" + SoakTest.soakOf(service, YOUNG);
    service.http.send("POST", soak + "/end", "application/json", "");
  }

  /** The rows, each by the names of its columns. */
  private static List<Map<String, String>> rows(Service service, String path) {
    HttpResponse<String> answer = service.http.get(path);
    assertThat(answer.headers().firstValue("Content-Type")).hasValue("text/csv; charset=utf-8");
    List<String> lines = answer.body().lines().toList();
    String[] names = lines.get(0).split(",");
    List<Map<String, String>> rows = new ArrayList<>();
    for (String line : lines.subList(1, lines.size())) {
      String[] cells = line.split(OUTSIDE_QUOTES, -1);
      assertThat(cells).hasSameSizeAs(names);
      Map<String, String> row = new LinkedHashMap<>();
      for (int i = 0; i < names.length; i++) {
        row.put(names[i], cells[i]);
      }
      rows.add(row);
    }
    return rows;
  }

  private static void holds(Map<String, String> row, String column, JsonNode estimate) {
    for (String part : PARTS) {
      String cell = row.get(part.equals("value") ? column : column + "_" + part);
      if (estimate.path(part).isNumber()) {
        same(cell, estimate.get(part));
      } else {
        assertThat(cell).as(column + " " + part).isEmpty();
      }
    }
  }

  private static void same(String cell, JsonNode number) {
    double of = number.asDouble();
    assertThat(Double.parseDouble(cell)).isCloseTo(of, within(1e-6 * Math.abs(of) + 1e-12));
  }

  @Test
  void warmUpIsOneRowWithTheBodysTimeConstant(Service service) {
    JsonNode json = service.http.json(soak + "/warm-up", "WarmUp");
    List<Map<String, String>> rows = rows(service, soak + "/warm-up.csv");
    assertThat(rows).hasSize(1);
    Map<String, String> row = rows.get(0);
    holds(row, "plateau_c", json.get("plateau_c"));
    holds(row, "start_c", json.get("start_c"));
    JsonNode taus = json.get("time_constants_s");
    holds(row, "time_constant_s", taus.get(taus.size() - 1));
    assertThat(Double.parseDouble(row.get("time_constant_s"))).isCloseTo(400, within(20.0));
    assertThat(row.get("fast_time_constant_s").isEmpty()).isEqualTo(taus.size() == 1);
    assertThat(row).containsEntry("from", json.get("from").asText()).containsEntry("reason", "");
    assertThat(soak).endsWith(row.get("soak"));
  }

  @Test
  void noiseIsARowForEachAxisAndAveragingTime(Service service) {
    JsonNode json = service.http.json(soak + "/noise", "Noise");
    List<Map<String, String>> rows = rows(service, soak + "/noise.csv");
    int at = 0;
    for (JsonNode axis : json.get("axes")) {
      assertThat(axis.get("tau_s")).hasSizeGreaterThan(3);
      for (int i = 0; i < axis.get("tau_s").size(); i++) {
        Map<String, String> row = rows.get(at++);
        assertThat(row).containsEntry("axis", axis.get("axis").asText());
        for (String of : List.of("tau_s", "adev_dps", "adev_low_dps", "adev_high_dps")) {
          same(row.get(of), axis.get(of).get(i));
        }
        holds(row, "bias_instability_deg_per_h", axis.get("bias_instability_deg_per_h"));
        same(row.get("sample_rate_hz"), json.get("sample_rate_hz"));
      }
    }
    assertThat(rows).hasSize(at);
  }

  @Test
  void headingIsOneRowWithARateForEachAxis(Service service) {
    String asked = "?from_c=26&use_c=31";
    JsonNode json = service.http.json(soak + "/heading" + asked, "Heading");
    List<Map<String, String>> rows = rows(service, soak + "/heading.csv" + asked);
    assertThat(rows).hasSize(1);
    Map<String, String> row = rows.get(0);
    same(row.get("calibrated_c"), json.get("calibrated_c"));
    holds(row, "deg_per_min", json.get("deg_per_min"));
    assertThat(json.get("axes")).hasSize(3);
    for (JsonNode axis : json.get("axes")) {
      holds(row, axis.get("axis").asText() + "_deg_per_min", axis.get("deg_per_min"));
    }
  }

  @Test
  void aSoakTooShortForFiguresSaysWhyInItsOneRow(Service service) {
    for (String of : List.of("/warm-up.csv", "/noise.csv", "/heading.csv")) {
      List<Map<String, String>> rows = rows(service, young + of);
      assertThat(rows).as(of).hasSize(1);
      assertThat(rows.get(0).get("reason")).as(of).isNotBlank();
    }
  }

  @Test
  void theTablesTakeTheOptionsOfAllTables(Service service) {
    String address = soak + "/warm-up.csv?columns=time_constant_s,from&decimal=comma&dates=local";
    List<String> lines = service.http.get(address + "&zone=UTC").body().lines().toList();
    assertThat(lines.get(0)).isEqualTo("time_constant_s;from");
    assertThat(lines.get(1)).matches("[0-9]+,[0-9]+;[0-9]{4}-[0-9-]+ [0-9:.]+");
    Http.problem(service.http.get(soak + "/noise?columns=axis"), 400, "invalid-request");
  }

  @ParameterizedTest
  @ValueSource(strings = {"warm-up", "noise", "heading", "bias-curve", "timeline"})
  void whoHasTheFiguresOfAnEndedSoakIsToldSoUntilTheyFollowFromSomethingElse(
      String of, Service service) {
    for (String form : List.of("", ".csv")) {
      String path = soak + "/" + of + form;
      HttpResponse<String> first = service.http.get(path);
      String tag = first.headers().firstValue("ETag").orElseThrow();
      assertThat(service.http.get(path, "If-None-Match", tag).statusCode()).isEqualTo(304);
      String other = service.http.get(young + "/" + of + form, "If-None-Match", tag).body();
      assertThat(other).as("another soak").isNotEmpty();
    }
  }

  @Test
  void aDeclarationOfTheRatesMakesTheTagOfAnEndedSoakAnother(Service service) {
    SoakTest.send(service, Lines.warmUp("ST-told", Service.START_US, 300));
    String told = "/api/soaks/" + SoakTest.soakOf(service, "ST-told");
    assertThat(service.http.get(told + "/noise").headers().firstValue("ETag"))
        .as("while it goes on")
        .isEmpty();
    service.http.send("POST", told + "/end", "application/json", "");
    String tag = service.http.get(told + "/noise").headers().firstValue("ETag").orElseThrow();
    String body = "{\"rates\":\"constant\"}";
    service.http.send("PUT", "/api/trackers/ST-told", "application/json", body);
    await()
        .atMost(Duration.ofSeconds(20))
        .until(() -> service.http.get(told + "/noise", "If-None-Match", tag).statusCode() == 200);
  }

  @Test
  void aLateSampleMakesTheTagOfAnEndedSoakAnother(Service service) {
    SoakTest.send(service, Lines.warmUp("ST-late", Service.START_US, 300));
    String late = "/api/soaks/" + SoakTest.soakOf(service, "ST-late");
    service.http.send("POST", late + "/end", "application/json", "");
    long lateUs = Service.START_US;
    for (String of : List.of("/warm-up", "/noise.csv", "/heading", "/bias-curve.csv")) {
      lateUs += 7_000;
      String tag = service.http.get(late + of).headers().firstValue("ETag").orElseThrow();
      SoakTest.send(service, Lines.warmUp("ST-late", lateUs, 1));
      service.watch.settle();
      HttpResponse<String> after = service.http.get(late + of, "If-None-Match", tag);
      assertThat(after.statusCode()).as(of).isEqualTo(200);
    }
  }
}
