package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.time.Instant;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Service;
import soakbench.live.arrival.Arrival;
import soakbench.live.arrival.Arrival.Input;

/** What is told of now, apart from what is stored. */
@ExtendWith(Service.Running.class)
class HeardTest {
  private static final String NDJSON = "application/x-ndjson";

  private final List<Arrival> heard = new CopyOnWriteArrayList<>();

  private static String line(String id, Instant time, double temperatureC) {
    return "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":%s}\n".formatted(id, time, temperatureC);
  }

  @Test
  void linesAreHeardAndNotStored(Service service) {
    Instant now = Instant.now();
    try (ApiServer server = service.hearing(ApiSettings.local(0), heard::add)) {
      Http http = new Http(server.url());
      String lines =
          line("H-1", now, 70)
              + "{\"id\":\"H-2\",\"temp_c\":71}\n"
              + "{\"id\":\"H-1\",\"time\":\""
              + now
              + "\",\"temp_c\":60,\"temp_held\":true}\n"
              + "{\"id\":\"H-3\",\"time\":\"yesterday\",\"temp_c\":72}\n"
              + "{\"temp_c\":73}\n"
              + "boot: v1.2\n";
      JsonNode answer = Http.json(http.send("POST", "/api/heard", NDJSON, lines), "HeardAnswer");
      assertThat(answer.get("heard").asInt()).isEqualTo(4);
      assertThat(answer.get("passed_over").asInt()).isEqualTo(2);
      assertThat(heard)
          .extracting(Arrival::temperatureC)
          .containsExactly(70.0, 71.0, Double.NaN, 72.0);
      assertThat(heard).extracting(Arrival::input).containsOnly(Input.POSTED);
      assertThat(http.json("/api/soaks?tracker=H-1", "SoakList").get("soaks")).isEmpty();
    }
  }

  @Test
  void csvUnderAHeaderIsHeardAndOtherTypesAreRefused(Service service) {
    try (ApiServer server = service.hearing(ApiSettings.local(0), heard::add)) {
      Http http = new Http(server.url());
      String csv = "id,time,temp_c\nH-csv," + Instant.now() + ",45.5\n";
      JsonNode answer = Http.json(http.send("POST", "/api/heard", "text/csv", csv), "HeardAnswer");
      assertThat(answer.get("heard").asInt()).isEqualTo(1);
      assertThat(heard).extracting(Arrival::temperatureC).containsExactly(45.5);
      assertThat(http.send("POST", "/api/heard", "text/html", csv).statusCode()).isEqualTo(415);
      String large = line("H-1", Instant.now(), 20).repeat(50_000);
      assertThat(http.send("POST", "/api/heard", NDJSON, large).statusCode()).isEqualTo(413);
    }
  }

  @Test
  void linesThatAreSentAgainAreStoredAndNotHeard(Service service) {
    try (ApiServer server = service.hearing(ApiSettings.local(0), heard::add)) {
      Http http = new Http(server.url());
      String lines = line("H-again", Instant.now(), 70);
      JsonNode answer =
          Http.json(http.send("POST", "/api/samples?again=true", NDJSON, lines), "Upload");
      assertThat(answer.get("accepted").asInt()).isEqualTo(1);
      assertThat(heard).isEmpty();
    }
  }
}
