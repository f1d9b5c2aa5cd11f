package soakbench.api.soaks;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.readiness.ReadinessTable;

@ExtendWith(Service.Running.class)
public class SoakTest {
  private static final String ID = "S-warm";
  private static final int SECONDS = 2400;
  private static final long FROM_US = Service.START_US;

  private static String soak;

  @BeforeAll
  static void record(Service service) {
    service.http.send(
        "PUT", "/api/trackers/" + ID, "application/json", "{\"name\":\"Warm one\",\"lot\":\"S7\"}");
    send(service, Lines.warmUp(ID, FROM_US, SECONDS));
    soak = soakOf(service, ID);
  }

  public static void send(Service service, String lines) {
    JsonNode answer =
        Http.json(
            service.http.send("POST", "/api/samples", "application/x-ndjson", lines), "Upload");
    assertThat(answer.get("rejected").asInt()).as(answer.toString()).isZero();
  }

  /** The newest soak of a tracker. */
  public static String soakOf(Service service, String tracker) {
    JsonNode soaks =
        service.http.json("/api/soaks?limit=1&tracker=" + tracker, "SoakList").get("soaks");
    assertThat(soaks).as("soaks of " + tracker).hasSize(1);
    return soaks.get(0).get("soak").asText();
  }

  @Test
  void aSoakIsTold(Service service) {
    JsonNode told = service.http.json("/api/soaks/" + soak, "Soak");
    assertThat(told.get("tracker").asText()).isEqualTo(ID);
    assertThat(told.get("name").asText()).isEqualTo("Warm one");
    assertThat(told.get("lot").asText()).isEqualTo("S7");
    assertThat(told.get("start").asText()).isEqualTo("2026-03-01T08:00:00Z");
    assertThat(told.get("ended").isNull()).isTrue();
  }

  @Test
  void itsTrackerIsReadyInTheEnd(Service service) {
    JsonNode verdict = service.http.json("/api/trackers/" + ID + "/readiness", "Readiness");
    assertThat(verdict.get("state").asText()).as(verdict.toString()).isEqualTo("ready");
    assertThat(verdict.get("name").asText()).isEqualTo("Warm one");
    assertThat(verdict.get("soak").asText()).isEqualTo(soak);
    assertThat(verdict.get("conditions")).hasSize(8);

    JsonNode timeline = service.http.json("/api/soaks/" + soak + "/timeline", "Timeline");
    List<String> states = new ArrayList<>();
    timeline.get("timeline").forEach(c -> states.add(c.get("state").asText()));
    assertThat(states).startsWith("starting").endsWith("ready");
    String csv = Http.csv(service.http.get("/api/soaks/" + soak + "/timeline.csv"));
    assertThat(csv.split("\r\n")).hasSize(states.size() + 1).startsWith("time,state,revised");
  }

  @Test
  void theTableOfVerdictsHasAColumnForEachFigureAndARowForEachTracker(Service service) {
    String csv = Http.csv(service.http.get("/api/readiness.csv"));
    String[] rows = csv.split("\r\n");
    assertThat(rows[0])
        .contains("bias_x_dps,bias_y_dps,bias_z_dps,shift_x_dps,shift_x_dps_se,shift_x_dps_low,")
        .contains("operating_band_met")
        .contains("ready_at_expected,ready_at_earliest,ready_at_latest");
    int columns = rows[0].split(",").length;
    assertThat(csv.lines().filter(r -> r.startsWith(ID + ",")).findFirst().orElseThrow())
        .contains("," + soak + ",ready,");
    JsonNode all = service.http.json("/api/readiness", "ReadinessList");
    assertThat(rows).hasSize(all.get("trackers").size() + 1);
    assertThat(columns).isEqualTo(ReadinessTable.of(id -> id, null, null).names().size());
  }

  @Test
  void figuresAreDerivedFromItsBins(Service service) {
    JsonNode warmUp = service.http.json("/api/soaks/" + soak + "/warm-up", "WarmUp");
    assertThat(warmUp.get("plateau_c").get("value").asDouble()).isBetween(30.9, 31.1);
    assertThat(warmUp.get("time_constants_s").get(0).get("value").asDouble())
        .isBetween(390.0, 410.0);
    JsonNode curve = service.http.json("/api/soaks/" + soak + "/bias-curve", "BiasCurve");
    JsonNode x = curve.get("axes").get(0).get("tempco_dps_per_c");
    assertThat(x.get("low").asDouble()).isLessThan(0.02);
    assertThat(x.get("high").asDouble()).isGreaterThan(0.02);
    JsonNode noise = service.http.json("/api/soaks/" + soak + "/noise", "Noise");
    assertThat(noise.get("sample_rate_hz").asDouble()).isBetween(9.5, 10.5);
    JsonNode heading = service.http.json("/api/soaks/" + soak + "/heading", "Heading");
    assertThat(heading.get("use_c").asDouble()).isEqualTo(31);
  }

  @Test
  void binsAndSamplesAreGivenWholeOrForAStretch(Service service) {
    String stretch = "?from=2026-03-01T08:01:00Z&to=2026-03-01T08:02:00Z";
    JsonNode bins =
        service.http.json("/api/soaks/" + soak + "/bins" + stretch, "BinList").get("bins");
    assertThat(bins).hasSize(60);
    assertThat(bins.get(0).get("time").asText()).isEqualTo("2026-03-01T08:01:00Z");
    assertThat(bins.get(0).get("gyro_dps").get(0).get("count").asInt()).isEqualTo(10);
    JsonNode samples =
        service.http.json("/api/soaks/" + soak + "/samples" + stretch, "SampleList").get("samples");
    assertThat(samples).hasSize(600);

    String csv = Http.csv(service.http.get("/api/soaks/" + soak + "/samples.csv"));
    assertThat(csv.split("\r\n").length).isEqualTo(SECONDS * 10 + 1);
    String table =
        Http.csv(service.http.get("/api/soaks/" + soak + "/bins" + stretch, "Accept", "text/csv"));
    assertThat(table.split("\r\n").length).isEqualTo(61);
    assertThat(table).contains("2026-03-01T08:01:00Z,60000,0,");
  }

  @Test
  void soaksAreListedPageByPage(Service service) {
    for (int i = 0; i < 5; i++) {
      send(service, Lines.steady("S-page" + i, FROM_US + i * 1_000_000L, 50));
      service.http.send(
          "PUT", "/api/trackers/S-page" + i, "application/json", "{\"lot\":\"S-lot p\"}");
    }
    List<String> found = new ArrayList<>();
    String next = "/api/soaks?limit=2&lot=S-lot%20p&from=2026-03-01T07:00:00%2B00:00&x=1";
    int pages = 0;
    while (next != null) {
      JsonNode page = service.http.json(next, "SoakList");
      page.get("soaks").forEach(s -> found.add(s.get("tracker").asText()));
      next = page.get("next").isNull() ? null : page.get("next").asText();
      pages++;
    }
    assertThat(pages).isEqualTo(3);
    assertThat(found).containsExactly("S-page4", "S-page3", "S-page2", "S-page1", "S-page0");
    var csv = service.http.get("/api/soaks.csv?limit=2&lot=S-lot+p");
    assertThat(Http.csv(csv).split("\r\n")).hasSize(3);
    assertThat(csv.headers().firstValue("Link").orElseThrow())
        .startsWith("</api/soaks.csv?after=")
        .contains("rel=\"next\"");
    assertThat(
            service
                .http
                .json("/api/soaks?lot=S-lot+p&to=2026-03-01T07:00:00Z", "SoakList")
                .get("soaks"))
        .isEmpty();
  }

  @Test
  void aSoakIsEndedOnceWhenItsTrackerIsTakenOff(Service service) {
    send(service, Lines.steady("S-off", Service.START_US, 100));
    String id = soakOf(service, "S-off");
    JsonNode ended =
        Http.json(service.http.send("POST", "/api/soaks/" + id + "/end", null, ""), "Soak");
    assertThat(ended.get("ended").asText()).isEqualTo("taken_off");
    JsonNode again =
        Http.problem(
            service.http.send("POST", "/api/soaks/" + id + "/end", null, ""), 409, "soak-ended");
    assertThat(again.get("detail").asText()).contains("ended at 2026-03-01T08:00:0");
    JsonNode quiet =
        Http.problem(service.http.get("/api/trackers/S-off/readiness"), 404, "not-soaking");
    assertThat(quiet.get("detail").asText()).contains("S-off is known but has no open soak");
  }

  @Test
  void aSoakWhoseStartLateSamplesMoveIsStillFoundAndEndedByTheIdThatItHad(Service service) {
    send(service, Lines.steady("S-late", Service.START_US + 5_000_000L, 100));
    String before = soakOf(service, "S-late");
    send(service, Lines.steady("S-late", Service.START_US, 50));
    service.watch.settle();
    String now = soakOf(service, "S-late");
    assertThat(now).isLessThan(before);
    JsonNode found = service.http.json("/api/soaks/" + before, "Soak");
    assertThat(found.get("soak").asText()).isEqualTo(now);
    JsonNode ended =
        Http.json(service.http.send("POST", "/api/soaks/" + before + "/end", null, ""), "Soak");
    assertThat(ended.get("soak").asText()).isEqualTo(now);
    assertThat(ended.get("ended").asText()).isEqualTo("taken_off");
    String outside = before.replace("T0800", "T0759");
    Http.problem(service.http.get("/api/soaks/" + outside), 404, "unknown-soak");
  }

  @Test
  void whatIsNotThereIsSaidToBeMissing(Service service) {
    for (String part : List.of("", "/timeline", "/samples.csv", "/bins", "/warm-up", "/noise")) {
      JsonNode problem =
          Http.problem(service.http.get("/api/soaks/none@1" + part), 404, "unknown-soak");
      assertThat(problem.get("detail").asText()).contains("No soak none@1 is stored");
    }
    JsonNode stranger =
        Http.problem(service.http.get("/api/trackers/S-none/readiness"), 404, "unknown-tracker");
    assertThat(stranger.get("detail").asText()).contains("S-none was never heard");
  }

  @Test
  void parametersThatMakeNoSenseAreNamed(Service service) {
    for (String query : List.of("from=yesterday", "limit=0", "limit=x", "after=none", "to=1")) {
      JsonNode problem =
          Http.problem(service.http.get("/api/soaks?" + query), 400, "invalid-request");
      assertThat(problem.get("problems").get(0).get("field").asText())
          .isEqualTo(query.substring(0, query.indexOf('=')));
    }
    JsonNode decimal =
        Http.problem(service.http.get("/api/soaks.csv?decimal=dot"), 400, "invalid-request");
    assertThat(decimal.get("detail").asText()).contains("decimal=point or decimal=comma");
  }
}
