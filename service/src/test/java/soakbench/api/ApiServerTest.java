package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.soaks.SoakTest;
import soakbench.model.Tracker.Rates;

@ExtendWith(Service.Running.class)
class ApiServerTest {

  @Test
  void itListensOnThisComputerAloneUnlessTold(Service service) {
    assertThat(service.server.url().toString())
        .isEqualTo("http://127.0.0.1:" + service.server.port() + "/");
  }

  @Test
  void aPortThatIsTakenIsToldInOneSentence(Service service) {
    ApiSettings taken = ApiSettings.local(service.server.port());
    assertThatThrownBy(
            () -> ApiServer.start(taken, service.watch, service.database, () -> 0).close())
        .isInstanceOf(ApiStartException.class)
        .hasMessage(
            "Cannot listen on port "
                + service.server.port()
                + " of 127.0.0.1: another program has it; stop that, or choose another port"
                + " (0 takes any free one).");
  }

  @Test
  void anAddressOfAnotherComputerIsToldInOneSentence(Service service) {
    ApiSettings foreign = new ApiSettings("192.0.2.1", 0);
    assertThatThrownBy(
            () -> ApiServer.start(foreign, service.watch, service.database, () -> 0).close())
        .isInstanceOf(ApiStartException.class)
        .hasMessageContaining("192.0.2.1: that address is not of this computer");
  }

  @Test
  void aBodyThatStopsComingIsToldSo(Service service) throws IOException {
    ApiSettings hasty = ApiSettings.local(0).withIdle(Duration.ofMillis(300));
    try (ApiServer server = ApiServer.start(hasty, service.watch, service.database, () -> 0);
        Socket socket = new Socket("127.0.0.1", server.port())) {
      socket.setSoTimeout(10_000);
      String head =
          "POST /api/samples HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/csv\r\n"
              + "Content-Length: 100\r\n\r\nid,time";
      socket.getOutputStream().write(head.getBytes(StandardCharsets.US_ASCII));
      String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      assertThat(answer).startsWith("HTTP/1.1 408");
      JsonNode problem = Schemas.valid(answer.split("\r\n\r\n", 2)[1], "Problem");
      assertThat(problem.get("detail").asText()).contains("stopped coming");
    }
  }

  @Test
  void whatOneServerIsToldOfATrackerAllOfItsWatchKnowAtOnce(Service service) {
    String id = "S-two-servers";
    SoakTest.send(service, Lines.warmUp(id, Service.START_US - 86_400_000_000L, 30));
    try (ApiServer second =
        ApiServer.start(ApiSettings.local(0), service.watch, service.database, () -> 0)) {
      Http other = new Http(second.url());
      assertThat(nameIn(other, id)).isEqualTo(id);
      assertThat(service.watch.rosterRates().of(id)).isEqualTo(Rates.UNKNOWN);
      service.http.send(
          "PUT",
          "/api/trackers/" + id,
          "application/json",
          "{\"name\":\"Known to both\",\"rates\":\"follows\"}");
      assertThat(nameIn(other, id)).isEqualTo("Known to both");
      assertThat(service.watch.rosterRates().of(id)).isEqualTo(Rates.FOLLOWS);
    }
  }

  private static String nameIn(Http http, String id) {
    return http.json("/api/trackers/" + id + "/readiness", "Readiness").get("name").asText();
  }
}
