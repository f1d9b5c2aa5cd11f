package soakbench.api.access;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URI;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Schemas;
import soakbench.api.Service;

/** What pages of other sites may not do through a browser that reaches this service. */
@ExtendWith(Service.Running.class)
class AccessSiteTest {

  private static String ask(URI base, String host, String... lines) throws IOException {
    return Guarded.bare(
        base, "GET /api/readiness HTTP/1.1\r\nHost: " + host + "\r\n" + String.join("", lines));
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "rebound.example",
        "localhost.rebound.example",
        "127.0.0.1.rebound.example",
        "192.0.2.7",
        "[2001:db8::1]",
        "127.0.0.2",
        "0.0.0.0",
        "localhost:8094.rebound.example",
        "xlocalhost"
      })
  void aNameThatIsNotOursIsRefusedWithoutAnyData(String host, Service service) throws IOException {
    String answer = ask(service.http.base(), host);
    assertThat(answer).matches("(?s)HTTP/1.1 (400|421) .*").doesNotContain("\"trackers\"");
  }

  @Test
  void aForgedHostIsToldAsAProblem(Service service) throws IOException {
    String answer = ask(service.http.base(), "rebound.example:" + service.server.port());
    assertThat(answer).startsWith("HTTP/1.1 421");
    JsonNode problem = Schemas.valid(answer.split("\r\n\r\n", 2)[1], "Problem");
    assertThat(problem.get("type").asText()).isEqualTo("urn:soakbench:problem:wrong-host");
    assertThat(problem.get("detail").asText()).contains("--name");
  }

  @ParameterizedTest
  @ValueSource(strings = {"localhost", "LOCALHOST.", "127.0.0.1", "[::1]", "localhost:1"})
  void thisComputersNamesAreOurs(String host, Service service) throws IOException {
    assertThat(ask(service.http.base(), host)).startsWith("HTTP/1.1 200");
  }

  @Test
  void namesThatWereGivenAreOursToo(Service service) throws IOException {
    AccessSettings named = AccessSettings.OPEN.withNames(Set.of("Bench.local"));
    ApiSettings settings = ApiSettings.local(0).withAccess(named);
    try (ApiServer server =
        ApiServer.start(settings, service.watch, service.database, service.nowUs::get)) {
      assertThat(ask(server.url(), "bench.local:80")).startsWith("HTTP/1.1 200");
      assertThat(ask(server.url(), "bench2.local")).startsWith("HTTP/1.1 421");
    }
  }

  @Test
  void withEveryAddressBoundTheOneThatWasReachedIsOurs(Service service) throws IOException {
    ApiSettings everywhere = new ApiSettings("0.0.0.0", 0);
    try (ApiServer server =
        ApiServer.start(everywhere, service.watch, service.database, service.nowUs::get)) {
      URI second = URI.create("http://127.0.0.2:" + server.port() + "/");
      assertThat(ask(second, "127.0.0.2")).startsWith("HTTP/1.1 200");
      assertThat(ask(server.url(), "127.0.0.2")).startsWith("HTTP/1.1 421");
      assertThat(ask(second, "rebound.example")).startsWith("HTTP/1.1 421");
      assertThat(ask(server.url(), "0.0.0.0")).startsWith("HTTP/1.1 421");
    }
  }

  @Test
  void aPageOfAnotherSiteCanSendNothingThatIsTaken(Service service) {
    String own = service.http.base().toString().replaceFirst("/$", "");
    String[][] foreign = {
      {"Origin", "https://elsewhere.example"},
      {"Origin", "null"},
      {"Origin", own.replace("http:", "http://x@")},
      {"Origin", own + "0"},
      {"Origin", "http://127.0.0.1:1"},
      {"Sec-Fetch-Site", "cross-site"},
      {"Sec-Fetch-Site", "same-site"},
      {"Origin", own, "Sec-Fetch-Site", "cross-site"}
    };
    for (String[] headers : foreign) {
      var request =
          service
              .http
              .request("/api/samples", headers)
              .header("Content-Type", "application/x-ndjson")
              .POST(
                  java.net.http.HttpRequest.BodyPublishers.ofString(
                      Lines.steady("A-foreign", Service.START_US, 20)));
      Http.problem(service.http.send(request.build()), 403, "cross-site");
    }
    assertThat(service.http.json("/api/soaks?tracker=A-foreign", "SoakList").get("soaks"))
        .isEmpty();
  }

  @Test
  void contentThatPlainFormsSendIsNotTakenAnywhere(Service service) {
    for (String type :
        List.of(
            "text/plain",
            "application/x-www-form-urlencoded; charset=utf-8",
            "multipart/form-data; boundary=x",
            "TEXT/PLAIN")) {
      for (String call :
          List.of("POST /api/samples", "POST /api/soaks/x/end", "PUT /api/trackers")) {
        String[] parts = call.split(" ");
        Http.problem(
            service.http.send(parts[0], parts[1], type, "a=b"), 415, "unsupported-media-type");
      }
    }
  }

  @Test
  void noAnswerLetsAnotherSiteReadIt(Service service) {
    for (String path : List.of("/api/readiness", "/", "/api/trackers.csv", "/health")) {
      var headers = service.http.get(path, "Origin", "https://elsewhere.example").headers();
      assertThat(headers.map().keySet())
          .noneMatch(name -> name.toLowerCase().startsWith("access-control-"));
    }
  }
}
