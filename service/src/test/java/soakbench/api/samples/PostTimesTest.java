package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Duration;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.CompletableFuture;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.live.arrival.Arrival;

/** Times that can't be right, and that every line is heard whatever its time says. */
@ExtendWith(Service.Running.class)
class PostTimesTest {
  private final List<Arrival> heard = new CopyOnWriteArrayList<>();

  private ApiServer server(Service service, UploadLimits limits) {
    return service.hearing(ApiSettings.local(0).withUploads(limits), heard::add);
  }

  private static JsonNode post(ApiServer server, String lines) {
    Http http = new Http(server.url());
    return Http.json(http.send("POST", "/api/samples", "application/x-ndjson", lines), "Upload");
  }

  private static String line(String id, Instant time, double temperatureC) {
    return "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":%s}\n".formatted(id, time, temperatureC);
  }

  private static String reason(JsonNode answer, int which) {
    return answer.get("problems").get(which).get("reason").asText();
  }

  @Test
  void aTimeFurtherAheadThanTheBoundIsRefusedWithBothTimesAndWhatToDo(Service service) {
    Instant now = Instant.now().truncatedTo(ChronoUnit.MILLIS);
    try (ApiServer server = server(service, UploadLimits.DEFAULT)) {
      String lines =
          line("PT-ahead", now.plusSeconds(40), 24)
              + line("PT-ahead", now.plusSeconds(3 * 60 + 30), 70)
              + line("PT-ahead", now.plus(Duration.ofHours(25)), 71);
      JsonNode answer = post(server, lines);
      assertThat(answer.get("accepted").asInt()).as(answer.toString()).isEqualTo(1);
      assertThat(reason(answer, 0))
          .startsWith("The time " + now.plusSeconds(210) + " is 3 min ")
          .contains("ahead of this service's clock, 20")
          .contains("up to 60 s are taken")
          .contains("Set the sender's clock, or leave time out and send boot and t_ms.");
      assertThat(reason(answer, 1)).contains(" is 1 day 0 h ahead");
      assertThat(heard).extracting(Arrival::temperatureC).containsExactly(24.0, 70.0, 71.0);
    }
  }

  @Test
  void theBoundCanBeSet(Service service) {
    UploadLimits wide = new UploadLimits(Duration.ofMinutes(10), 500, 500, 500);
    try (ApiServer server = server(service, wide)) {
      Instant now = Instant.now();
      String lines =
          line("PT-wide", now.plusSeconds(500), 24) + line("PT-wide", now.plusSeconds(700), 24);
      JsonNode answer = post(server, lines);
      assertThat(answer.get("accepted").asInt()).isEqualTo(1);
      assertThat(reason(answer, 0)).contains("up to 600 s are taken");
    }
  }

  @Test
  void recordingsOfThePastAreTakenAndYearsOutsideAreToldSo(Service service) {
    try (ApiServer server = server(service, UploadLimits.DEFAULT)) {
      StringBuilder lines = new StringBuilder();
      for (String year : List.of("0001", "1970", "1999", "2000", "2013", "2100", "9999")) {
        lines.append(line("PT-years", Instant.parse(year + "-06-01T08:00:00Z"), 24));
      }
      lines.append("{\"id\":\"PT-years\",\"time\":\"+300000-06-01T08:00:00Z\",\"temp_c\":25}\n");
      JsonNode answer = post(server, lines.toString());
      assertThat(answer.get("accepted").asInt()).as(answer.toString()).isEqualTo(2);
      assertThat(answer.get("problems")).hasSize(6);
      answer
          .get("problems")
          .forEach(p -> assertThat(p.get("reason").asText()).contains("between 2000 and 2100"));
      assertThat(heard).as("heard although they are refused").hasSize(8);
      assertThat(withoutLine(heard.get(7))).isEqualTo(posted("PT-years", Long.MIN_VALUE, 25));
    }
  }

  private static Arrival withoutLine(Arrival a) {
    return new Arrival(a.tracker(), a.stampUs(), a.temperatureC(), a.input());
  }

  private static Arrival posted(String id, long stampUs, double temperatureC) {
    return new Arrival(id, stampUs, temperatureC, Arrival.Input.POSTED);
  }

  @Test
  void everyFormOfALineIsHeardWithWhatItsOwnTimeSays(Service service) {
    try (ApiServer server = server(service, UploadLimits.DEFAULT)) {
      String rest = "\"gyro_dps\":[0,0,0]}\n";
      post(
          server,
          "{\"id\":\"PT-a\",\"time\":\"2026-03-01T08:00:00Z\",\"temp_c\":24.5,"
              + rest
              + "{\"id\":\"PT-a\",\"time\":\"2026-03-01T08:00:01Z\","
              + rest
              + "{\"id\":\"PT-a\",\"time\":\"2026-03-01T08:00:02Z\",\"temp_held\":true,\"temp_c\":24.5,"
              + rest
              + "{\"id\":\"PT-a\",\"temp_c\":26,"
              + rest
              + "{\"id\":\"PT-a\",\"arrival\":\"2026-03-01T08:00:00Z\",\"temp_c\":27,"
              + rest
              + "{\"temp_c\":28,"
              + rest
              + "{\"id\":\"PT-a\",\"time\":\"noon\",\"temp_c\":\"hot\","
              + rest
              + "{\"id\":\"PT-b\",\"boot\":\"b1\",\"t_ms\":1000,\"temp_c\":29,"
              + rest
              + "{\"id\":\"PT-b\",\"boot\":\"b1\",\"t_ms\":3000,\"temp_c\":30,"
              + rest);
      long us = Service.START_US;
      long arrivedUs = service.nowUs.get();
      assertThat(heard.stream().map(PostTimesTest::withoutLine))
          .containsExactly(
              posted("PT-a", us, 24.5),
              posted("PT-a", us + 1_000_000, Double.NaN),
              posted("PT-a", us + 2_000_000, Double.NaN),
              posted("PT-a", Long.MIN_VALUE, 26),
              posted("PT-a", us, 27),
              posted("PT-b", arrivedUs - 2_000_000, 29),
              posted("PT-b", arrivedUs, 30));
    }
  }

  @Test
  void linesAreHeardWhileTheStoreTakesNothing(Service service) {
    try (ApiServer server = server(service, UploadLimits.DEFAULT)) {
      String lines = Lines.steady("PT-stuck", Service.START_US, 3000);
      CompletableFuture<JsonNode> answer;
      // What stores holds this lock, however long its database takes.
      synchronized (service.watch) {
        answer = CompletableFuture.supplyAsync(() -> post(server, lines));
        await().atMost(Duration.ofSeconds(20)).until(() -> heard.size() == 3000);
        assertThat(answer).isNotDone();
      }
      assertThat(answer.join().get("accepted").asInt()).isEqualTo(3000);
    }
  }

  @Test
  void idsThatNoAddressCanNameAreRefusedAtEveryInput(Service service) {
    try (ApiServer server = server(service, UploadLimits.DEFAULT)) {
      Instant time = Instant.parse("2026-03-01T08:00:00Z");
      JsonNode answer = post(server, line(".", time, 20) + line("..", time, 20));
      assertThat(answer.get("rejected").asInt()).isEqualTo(2);
      assertThat(reason(answer, 0)).contains("id \".\" is no id").contains("but not \".\"");
      assertThat(heard).isEmpty();
      assertThat(post(server, line("...", time, 20)).get("accepted").asInt()).isEqualTo(1);
      List<String> rosters = new ArrayList<>(List.of("id\n.\n", "id\n..\n"));
      for (String roster : rosters) {
        JsonNode problem =
            Http.problem(
                service.http.send("PUT", "/api/trackers", "text/csv", roster),
                422,
                "invalid-content");
        assertThat(problem.at("/problems/0/reason").asText()).contains("but not \".\" or \"..\"");
      }
    }
  }
}
