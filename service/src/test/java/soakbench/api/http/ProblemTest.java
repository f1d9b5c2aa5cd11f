package soakbench.api.http;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.Javalin;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slf4j.LoggerFactory;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Schemas;
import soakbench.api.Service;
import soakbench.api.WebServer;
import soakbench.api.access.AccessPairing;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.SharedServer;

@ExtendWith(Service.Running.class)
class ProblemTest {

  @Test
  void anAddressThatIsNotThereIsSaidToBeMissing(Service service) {
    for (String path : List.of("/api/nothing", "/nothing.html", "/lib/uplot/none.js", "/api/")) {
      JsonNode problem = Http.problem(service.http.get(path), 404, "not-found");
      assertThat(problem.get("detail").asText())
          .isEqualTo("Nothing is served at " + path + ". GET /openapi.json lists all calls.");
    }
  }

  @Test
  void aMethodThatIsNotTakenIsRefusedWithThoseThatAre(Service service) {
    HttpResponse<String> answer = service.http.send("DELETE", "/api/trackers", null, "");
    JsonNode problem = Http.problem(answer, 405, "method-not-allowed");
    assertThat(problem.get("detail").asText())
        .isEqualTo("DELETE is not for /api/trackers; it takes GET, PUT, HEAD, OPTIONS.");
    assertThat(answer.headers().firstValue("Allow")).hasValue("GET, PUT, HEAD, OPTIONS");
    Http.problem(service.http.send("POST", "/api/readiness", null, ""), 405, "method-not-allowed");
    Http.problem(service.http.get("/api/samples"), 405, "method-not-allowed");
  }

  @Test
  void aBrowserToo(Service service) {
    for (String path : List.of("/api/trackers", "/api/readiness", "/health")) {
      var request =
          service
              .http
              .request(path, "Accept", "text/html,application/xhtml+xml;q=0.9,*/*;q=0.8")
              .DELETE()
              .build();
      HttpResponse<String> answer = service.http.send(request);
      JsonNode problem = Http.problem(answer, 405, "method-not-allowed");
      String allowed = answer.headers().firstValue("Allow").orElseThrow();
      assertThat(allowed).contains("GET").contains("HEAD");
      assertThat(problem.get("detail").asText()).endsWith("it takes " + allowed + ".");
    }
  }

  @Test
  void aDocumentThatIsTooLargeIsRefused(Service service) {
    String roster = "id,note\n" + "T-1,x\n".repeat(1_000_000);
    Http.problem(service.http.send("PUT", "/api/trackers", "text/csv", roster), 413, "too-large");
  }

  @Test
  void aPageOfAnotherSiteMayChangeNothing(Service service) {
    var request =
        service
            .http
            .request("/api/soaks/x/end", "Origin", "https://elsewhere.example")
            .POST(java.net.http.HttpRequest.BodyPublishers.noBody());
    JsonNode problem = Http.problem(service.http.send(request.build()), 403, "cross-site");
    assertThat(problem.get("detail").asText()).contains("https://elsewhere.example");
    String own = service.http.base().toString();
    var same =
        service
            .http
            .request("/api/soaks/x/end", "Origin", own.substring(0, own.length() - 1))
            .POST(java.net.http.HttpRequest.BodyPublishers.noBody());
    Http.problem(service.http.send(same.build()), 404, "unknown-soak");
  }

  @Test
  void whatTheServerRefusesBeforeAnyHandlerIsAProblemToo(Service service) throws IOException {
    assertBare(
        service.http.base(), "GET /%2e%2e/x HTTP/1.1\r\nHost: x\r\n", 400, "invalid-request");
    assertBare(service.http.base(), "GET /a%00b HTTP/1.1\r\nHost: x\r\n", 400, "invalid-request");
    assertBare(service.http.base(), "GET / HTTP/1.1\r\n", 400, "invalid-request");
    assertBare(
        service.http.base(),
        "GET / HTTP/1.1\r\nHost: x\r\nX: " + "y".repeat(20_000) + "\r\n",
        431,
        "headers-too-large");
    assertBare(
        service.http.base(),
        "GET /" + "y".repeat(20_000) + " HTTP/1.1\r\nHost: x\r\n",
        414,
        "uri-too-long");
  }

  private static void assertBare(URI base, String head, int status, String kind)
      throws IOException {
    String answer = bare(base, head);
    String[] parts = answer.split("\r\n\r\n", 2);
    assertThat(parts[0]).startsWith("HTTP/1.1 " + status);
    assertThat(parts[0]).contains("Content-Type: application/problem+json\r\n");
    JsonNode problem = Schemas.valid(parts[1], "Problem");
    assertThat(problem.get("type").asText()).isEqualTo("urn:soakbench:problem:" + kind);
  }

  private static String bare(URI base, String head) throws IOException {
    try (Socket socket = new Socket(base.getHost(), base.getPort())) {
      socket.setSoTimeout(10_000);
      OutputStream out = socket.getOutputStream();
      out.write((head + "Connection: close\r\n\r\n").getBytes(StandardCharsets.US_ASCII));
      InputStream in = socket.getInputStream();
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    }
  }

  @Test
  void ourOwnMistakesAreToldWithoutTheirInsidesAndLoggedOnce() {
    Logger log = (Logger) LoggerFactory.getLogger(Problems.class);
    ListAppender<ILoggingEvent> logged = new ListAppender<>();
    logged.start();
    log.addAppender(logged);
    Javalin broken = broken();
    try {
      Http http = new Http(URI.create("http://127.0.0.1:" + broken.port() + "/"));
      for (String path : List.of("/exception", "/error")) {
        logged.list.clear();
        JsonNode problem = Http.problem(http.get(path), 500, "internal-error");
        String detail = problem.get("detail").asText();
        assertThat(detail).contains("under the mark").doesNotContain("secret");
        assertThat(logged.list).hasSize(1);
        String mark = detail.replaceAll("(?s).*mark (\\w{8})\\..*", "$1");
        assertThat(logged.list.get(0).getFormattedMessage()).contains(mark);
        assertThat(logged.list.get(0).getThrowableProxy().getMessage()).isEqualTo("secret");
      }
    } finally {
      log.detachAppender(logged);
      broken.stop();
    }
  }

  @Test
  void anAnswerThatBreaksOffIsCutSoThatItIsNotTakenForWhole() throws IOException {
    Javalin broken = broken();
    try (Socket socket = new Socket("127.0.0.1", broken.port())) {
      socket.setSoTimeout(10_000);
      socket
          .getOutputStream()
          .write(
              "GET /halfway HTTP/1.1\r\nHost: localhost\r\n\r\n"
                  .getBytes(StandardCharsets.US_ASCII));
      String answer;
      try {
        answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
      } catch (java.net.SocketException reset) {
        answer = reset.getMessage();
      }
      assertThat(answer).doesNotEndWith("0\r\n\r\n").doesNotContain("problem:");
    } finally {
      broken.stop();
    }
  }

  /** A server set up like ours, with handlers that fail. */
  private static Javalin broken() {
    return Javalin.create(
            config -> {
              ApiSettings settings = ApiSettings.local(0);
              WebServer.configure(config, settings, new AccessPairing(settings.access()));
              config.routes.get(
                  "/exception",
                  ctx -> {
                    throw new IllegalStateException("secret");
                  });
              config.routes.get(
                  "/error",
                  ctx -> {
                    throw new StackOverflowError("secret");
                  });
              config.routes.get(
                  "/halfway",
                  ctx -> {
                    OutputStream out = new BufferedOutputStream(ctx.outputStream());
                    for (int i = 0; i < 100_000; i++) {
                      out.write("1,2,3\r\n".getBytes(StandardCharsets.US_ASCII));
                    }
                    throw new IllegalStateException("secret");
                  });
            })
        .start();
  }

  @Test
  void withTheDatabaseAwayEachCallSaysSoAndWhenToComeBack() {
    Database database = Database.open(SharedServer.empty());
    SoakWatch watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> 0);
    try (ApiServer server = ApiServer.start(ApiSettings.local(0), watch, database, () -> 0)) {
      Http http = new Http(server.url());
      assertThat(http.json("/health", "Health").get("database").get("state").asText())
          .isEqualTo("up");
      database.close();
      HttpResponse<String> health = http.get("/health");
      assertThat(health.statusCode()).isEqualTo(503);
      JsonNode told = Schemas.valid(health.body(), "Unhealthy");
      assertThat(told.get("database").get("state").asText()).isEqualTo("away");
      for (String path : List.of("/api/trackers", "/api/soaks", "/api/soaks/x/bins.csv")) {
        HttpResponse<String> answer = http.get(path);
        JsonNode problem = Http.problem(answer, 503, "store-unavailable");
        assertThat(problem.get("detail").asText()).isNotBlank();
        assertThat(answer.headers().firstValue("Retry-After")).isPresent();
      }
      String lines = Lines.steady("X-1", Service.START_US, 10);
      Http.problem(
          http.send("POST", "/api/samples", "application/x-ndjson", lines),
          503,
          "store-unavailable");
      // What arrives is watched all the same.
      JsonNode shown = http.json("/api/readiness", "ReadinessList").get("trackers").get(0);
      assertThat(shown.get("tracker").asText()).isEqualTo("X-1");
      assertThat(shown.get("soak").isNull()).isTrue();
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"2300-01-01T00:00:00Z", "9999-12-31T23:59:59Z", "0001-01-01T00:00:00Z"})
  void timesFarAwayAreTimesToo(String far, Service service) {
    assertThat(service.http.get("/api/soaks?from=" + far).statusCode()).isEqualTo(200);
    assertThat(service.http.get("/api/soaks?to=" + far).statusCode()).isEqualTo(200);
  }

  @Test
  void aYearThatNoCalendarHasIsNoTime(Service service) {
    Http.problem(
        service.http.get("/api/soaks?from=%2B999999999-01-01T00:00:00Z"), 400, "invalid-request");
  }
}
