package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.InetAddress;
import java.net.Socket;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Schemas;
import soakbench.api.Service;
import soakbench.api.health.ServiceStatus;
import soakbench.api.soaks.SoakTest;

/** How many trackers uploads may make out of nothing, over real HTTP. */
@ExtendWith(Service.Running.class)
class NewTrackerQuotaTest {
  private final Set<String> heard = ConcurrentHashMap.newKeySet();

  private ApiServer server(Service service, int perRequest, int perSender, int perDay) {
    UploadLimits limits = new UploadLimits(Duration.ofMinutes(1), perRequest, perSender, perDay);
    return service.hearing(
        ApiSettings.local(0).withUploads(limits), arrival -> heard.add(arrival.tracker()));
  }

  private static String lines(String prefix, int from, int to) {
    StringBuilder lines = new StringBuilder();
    for (int i = from; i < to; i++) {
      lines.append(Lines.json(prefix + i, Service.START_US, 24, 0.1));
    }
    return lines.toString();
  }

  private static JsonNode post(ApiServer server, String lines) {
    Http http = new Http(server.url());
    return Http.json(http.send("POST", "/api/samples", "application/x-ndjson", lines), "Upload");
  }

  @Test
  void ofAFloodSomeAreTakenTheOthersCountedAndWhatIsKnownGoesOn(Service service) {
    try (ApiServer server = server(service, 5, 1000, 1000)) {
      JsonNode first = post(server, lines("NT-r", 0, 300));
      assertThat(first.get("accepted").asInt()).as(first.toString()).isEqualTo(5);
      assertThat(first.get("rejected").asInt()).isEqualTo(295);
      assertThat(first.get("new_trackers_rejected").asInt()).isEqualTo(295);
      assertThat(first.get("problems").size()).isLessThanOrEqualTo(100);
      assertThat(first.get("problems").get(0).get("reason").asText())
          .startsWith("NT-r5 was never heard, and no more than 5 in one request are taken.")
          .contains("PUT /api/trackers/NT-r5");
      assertThat(heard).containsExactlyInAnyOrder("NT-r0", "NT-r1", "NT-r2", "NT-r3", "NT-r4");
      JsonNode more =
          post(server, lines("NT-q", 0, 9) + Lines.steady("NT-r1", 0 + Service.START_US + 1, 50));
      assertThat(more.get("accepted").asInt()).isEqualTo(55);
      assertThat(more.get("new_trackers_rejected").asInt()).isEqualTo(4);
    }
  }

  @Test
  void whatTheRosterListsOrHadASoakIsNotNew(Service service) {
    post(service.server, Lines.steady("NT-soaked", Service.START_US, 50));
    service.watch.tick();
    service.http.send("PUT", "/api/trackers", "text/csv", "id\nNT-listed\n");
    SoakTest.soakOf(service, "NT-soaked");
    try (ApiServer server = server(service, 0, 0, 0)) {
      await()
          .until(
              () ->
                  post(server, Lines.steady("NT-soaked", Service.START_US + 9_000_000, 50))
                          .get("rejected")
                          .asInt()
                      == 0);
      assertThat(post(server, lines("NT-list", 0, 1)).get("accepted").asInt()).isZero();
      assertThat(
              post(server, Lines.json("NT-listed", Service.START_US, 24, 0))
                  .get("accepted")
                  .asInt())
          .isEqualTo(1);
      service.http.send("PUT", "/api/trackers", "text/csv", "id\nNT-later\n");
      await()
          .until(
              () ->
                  post(server, Lines.json("NT-later", Service.START_US, 24, 0))
                          .get("rejected")
                          .asInt()
                      == 0);
    }
  }

  @Test
  void oneSendersShareLeavesSomeForOthersUntilTheDayIsFull(Service service) throws IOException {
    try (ApiServer server = server(service, 100, 8, 10)) {
      JsonNode first = post(server, lines("NT-s", 0, 20));
      assertThat(first.get("accepted").asInt()).isEqualTo(8);
      assertThat(first.get("problems").get(0).get("reason").asText())
          .contains("no more than 8 new trackers of one sender in a day are taken");
      String other = postFrom("127.0.0.2", server, lines("NT-t", 0, 20));
      JsonNode second = Schemas.valid(other, "Upload");
      assertThat(second.get("accepted").asInt()).as(other).isEqualTo(2);
      assertThat(second.get("problems").get(0).get("reason").asText())
          .contains("no more than 10 new trackers in a day, of all senders together, are taken");
    }
  }

  @Test
  void whoeverIsAskedAboutBeforeTheStoreWasReadIsNotRefusedForGood(Service service) {
    post(service.server, Lines.steady("NT-before", Service.START_US, 50));
    UploadLimits limits = new UploadLimits(Duration.ofMinutes(1), 0, 0, 0);
    ServiceStatus status = ServiceStatus.starting();
    try (ApiServer server =
        service.hearing(ApiSettings.local(0).withUploads(limits), arrival -> {}, status)) {
      status.answers();
      String lines = Lines.steady("NT-before", Service.START_US + 9_000_000, 50);
      Http http = new Http(server.url());
      HttpResponse<String> answer =
          http.send("POST", "/api/samples", "application/x-ndjson", lines);
      Http.problem(answer, 503, "store-unavailable");
      assertThat(answer.headers().firstValue("Retry-After")).isPresent();
      server.storeIsOpen();
      assertThat(post(server, lines).get("accepted").asInt()).isEqualTo(50);
      assertThat(post(server, lines("NT-never", 0, 1)).get("rejected").asInt()).isEqualTo(1);
    }
  }

  /** Posts from another address of this computer, as another computer would. */
  private static String postFrom(String address, ApiServer server, String lines)
      throws IOException {
    InetAddress here = InetAddress.getByName(address);
    try (Socket socket = new Socket(InetAddress.getByName("127.0.0.1"), server.port(), here, 0)) {
      socket.setSoTimeout(20_000);
      byte[] body = lines.getBytes(StandardCharsets.UTF_8);
      String head =
          "POST /api/samples HTTP/1.0\r\nHost: localhost\r\nContent-Type: application/x-ndjson\r\n"
              + "Content-Length: "
              + body.length
              + "\r\n\r\n";
      socket.getOutputStream().write(head.getBytes(StandardCharsets.US_ASCII));
      socket.getOutputStream().write(body);
      String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      return answer.split("\r\n\r\n", 2)[1];
    }
  }
}
