package soakbench.api.soaks;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.live.figures.FigureDeriver;

/** A soak that people leave out of the figures, over a real database. */
@ExtendWith(Service.Running.class)
class LeaveOutTest {
  private static final String ID = "LO-1";
  private static final String WHY = "the blanket had slipped";
  private static final String BODY = "{\"reason\":\" " + WHY + " \"}";
  private static final long DAY_US = 86_400_000_000L;

  /** The newest first. */
  private static List<String> soaks;

  @BeforeAll
  static void record(Service service) {
    service.http.send("PUT", "/api/trackers/" + ID, "application/json", "{\"lot\":\"LO\"}");
    for (int day = 30; day > 27; day--) {
      send(service, day, 800);
    }
    send(service, 27, 20);
    soaks = new ArrayList<>();
    list(service).forEach(s -> soaks.add(s.get("soak").asText()));
    assertThat(soaks).hasSize(4);
    derive(service);
  }

  @AfterEach
  void takeAllIn(Service service) {
    soaks.forEach(s -> takeIn(service, s));
    derive(service);
  }

  @Test
  void itStaysListedWithTheReasonAndTheFiguresOfItsTrackerDoWithoutIt(Service service) {
    assertThat(figures(service).get("soaks_used").asInt()).isEqualTo(3);
    JsonNode told = leaveOut(service, soaks.get(2));
    assertThat(told.get("left_out").asText()).isEqualTo(WHY);
    assertThat(service.database.figures().outdated(FigureDeriver.VERSION, 10, Set.of()))
        .as("derived with its settling")
        .contains(soaks.get(1));
    derive(service);
    assertThat(list(service).findValuesAsText("left_out"))
        .containsExactly("null", "null", WHY, "null");
    String csv = Http.csv(service.http.get("/api/soaks.csv?tracker=" + ID));
    assertThat(csv.lines().filter(l -> l.startsWith(soaks.get(2) + ",")))
        .hasSize(1)
        .allMatch(l -> l.endsWith("," + WHY));
    JsonNode row = figures(service);
    assertThat(row.get("soaks").asInt()).isEqualTo(4);
    assertThat(row.get("soaks_used").asInt()).isEqualTo(2);
    assertThat(row.get("soaks_left_out").asInt()).isEqualTo(1);
    JsonNode one = service.http.json("/api/trackers/" + ID + "/figures", "TrackerFigures");
    assertThat(one.get("soaks").findValuesAsText("left_out"))
        .containsExactly("null", "null", WHY, "null");
    assertThat(one.get("curves").findValuesAsText("soak"))
        .containsExactly(soaks.get(1), soaks.get(3));

    takeIn(service, soaks.get(2));
    derive(service);
    assertThat(figures(service).get("soaks_used").asInt()).isEqualTo(3);
    assertThat(figures(service).get("soaks_left_out").asInt()).isZero();
  }

  @Test
  void whereNoneCountsTheTrackerStaysListedAndEachFigureSaysWhy(Service service) {
    soaks.forEach(s -> leaveOut(service, s));
    derive(service);
    JsonNode row = figures(service);
    assertThat(row.get("soak").asText()).isEqualTo(soaks.get(0));
    assertThat(row.get("soaks_used").asInt()).isZero();
    assertThat(row.at("/time_constant_s/reason").asText())
        .isEqualTo("all its soaks are left out of the figures; of the newest it was said: " + WHY);
  }

  @Test
  void laterSoaksAreNotJudgedByIt(Service service) {
    String three = "LO-prior";
    for (int day = 30; day > 27; day--) {
      SoakTest.send(service, Lines.warmUp(three, Service.START_US - day * DAY_US, 1200, 1));
    }
    String odd = SoakTest.soakOf(service, three);
    SoakTest.send(service, Lines.warmUp(three, Service.START_US - 20 * DAY_US, 5));
    assertThat(prior(service, three).get("soaks").asInt()).isEqualTo(3);
    leaveOut(service, odd);
    SoakTest.send(service, Lines.warmUp(three, Service.START_US - 19 * DAY_US, 5));
    assertThat(prior(service, three).isNull()).as("two are too few").isTrue();
    takeIn(service, odd);
    SoakTest.send(service, Lines.warmUp(three, Service.START_US - 18 * DAY_US, 5));
    assertThat(prior(service, three).get("soaks").asInt()).isEqualTo(3);
  }

  @Test
  void aReasonMustBeGivenAndTheSoakMustBeThere(Service service) {
    String path = "/api/soaks/" + soaks.get(0) + "/leave-out";
    for (String body :
        List.of("{}", "{\"reason\":\"  \"}", "{\"reason\":7}", "{\"why\":\"so\"}", tooLong())) {
      assertThat(service.http.send("POST", path, "application/json", body).statusCode())
          .as(body)
          .isEqualTo(422);
    }
    assertThat(service.http.send("POST", path, "text/plain", WHY).statusCode()).isEqualTo(415);
    String none = "/api/soaks/none@1/leave-out";
    assertThat(service.http.send("POST", none, "application/json", BODY).statusCode())
        .isEqualTo(404);
    assertThat(service.http.send("DELETE", none, null, "").statusCode()).isEqualTo(404);
    assertThat(list(service).findValuesAsText("left_out")).containsOnly("null");
  }

  private static String tooLong() {
    return "{\"reason\":\"" + "x".repeat(201) + "\"}";
  }

  private static void send(Service service, int daysBefore, int seconds) {
    SoakTest.send(service, Lines.warmUp(ID, Service.START_US - daysBefore * DAY_US, seconds, 2));
  }

  private static void derive(Service service) {
    FigureDeriver deriver = new FigureDeriver(service.database.figures());
    while (deriver.deriveOutdated() > 0) {
      continue;
    }
  }

  private static JsonNode list(Service service) {
    return service.http.json("/api/soaks?tracker=" + ID, "SoakList").get("soaks");
  }

  private static JsonNode figures(Service service) {
    return service.http.json("/api/figures?lot=LO", "FiguresList").at("/figures/0");
  }

  private static JsonNode prior(Service service, String tracker) {
    String soak = SoakTest.soakOf(service, tracker);
    return service.http.json("/api/soaks/" + soak + "/limits", "SoakTerms").get("tau_prior");
  }

  private static JsonNode leaveOut(Service service, String soak) {
    String path = "/api/soaks/" + soak + "/leave-out";
    return Http.json(service.http.send("POST", path, "application/json", BODY), "Soak");
  }

  private static void takeIn(Service service, String soak) {
    assertThat(
            service.http.send("DELETE", "/api/soaks/" + soak + "/leave-out", null, "").statusCode())
        .isEqualTo(204);
  }
}
