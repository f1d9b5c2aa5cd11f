package soakbench.api.access;

import static org.assertj.core.api.Assertions.assertThat;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.router.ParsedEndpoint;
import java.io.OutputStream;
import java.net.Socket;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.slf4j.LoggerFactory;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;

/** Who may write and read where a token is set, over real HTTP. */
@ExtendWith(Service.Running.class)
class AccessTokenTest {
  private static final String GOOD = "Bearer " + Guarded.TOKEN;

  @Test
  void withoutTheTokenNoCallIsAnswered(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      int asked = 0;
      for (ParsedEndpoint parsed :
          guarded.server.javalin().unsafe.internalRouter.allHttpHandlers()) {
        String method = parsed.endpoint.method.name();
        String path = parsed.endpoint.path.replaceAll("\\{\\w+}", "none");
        if (!parsed.endpoint.method.isHttpMethod()
            || path.equals("/pair")
            || path.equals("/health")
            || method.equals("OPTIONS")) {
          continue;
        }
        HttpResponse<String> answer = guarded.ask(method, path, "");
        assertThat(answer.statusCode()).as(method + " " + path).isEqualTo(401);
        assertThat(answer.headers().firstValue("WWW-Authenticate"))
            .hasValue("Bearer realm=\"soakbench\"");
        asked++;
      }
      assertThat(asked).isGreaterThan(20);
    }
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "/",
        "/index.html",
        "/js/board.js",
        "/css/tile.css",
        "/lib/uplot/dist/uPlot.esm.js",
        "/pair.html",
        "/nothing",
        "/pair/",
        "/PAIR",
        "//pair",
        "/pair/../api/readiness",
        "/pair;x=1/../api/readiness",
        "/css/frame.css/../../api/readiness",
        "/api/pairing-codes",
        "/api/readiness;/pair",
        "/css/pair.css/..%2f..%2fapi/readiness",
        "/api/samples"
      })
  void noSpellingOfAnAddressGetsAroundTheToken(String path, Service service) throws Exception {
    try (Guarded guarded = Guarded.closed(service)) {
      String answer =
          Guarded.bare(guarded.http.base(), "GET " + path + " HTTP/1.1\r\nHost: localhost\r\n");
      assertThat(answer).as(path).matches("(?s)HTTP/1.1 (400|401) .*");
      assertThat(answer).doesNotContain("trackers").doesNotContain("<html");
    }
  }

  @Test
  void whetherItIsWellIsToldToAnybodyAndNoMoreThanThat(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      for (HttpResponse<String> answer :
          List.of(
              guarded.http.get("/health"),
              guarded.http.get("/health", "Accept", "application/json, text/html"),
              guarded.http.get("/health", "Authorization", "Bearer of bad news"))) {
        assertThat(Http.json(answer, "BriefHealth")).hasSize(1);
      }
      Http.json(guarded.http.get("/health", "Authorization", GOOD), "Health");
      Http.json(guarded.http.get("/health", "Cookie", guarded.cookie()), "Health");
      assertThat(guarded.ask("POST", "/health", "").statusCode()).isEqualTo(401);
    }
  }

  @Test
  void theRightTokenReadsAndWrites(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      HttpResponse<String> sent =
          guarded.ask(
              "POST",
              "/api/samples",
              Lines.steady("A-token", Service.START_US, 20),
              "Authorization",
              GOOD,
              "Content-Type",
              "application/x-ndjson");
      assertThat(Http.json(sent, "Upload").get("accepted").asInt()).isEqualTo(20);
      Http.json(guarded.http.get("/api/readiness", "Authorization", GOOD), "ReadinessList");
      assertThat(guarded.http.get("/", "Authorization", "bearer " + Guarded.TOKEN).statusCode())
          .as("the scheme's case does not matter (RFC 9110, 11.1)")
          .isEqualTo(200);
    }
  }

  @Test
  void aWrongTokenOrSchemeWritesNothing(Service service) {
    String lines = Lines.steady("A-refused", Service.START_US, 20);
    String almost = Guarded.TOKEN.substring(0, Guarded.TOKEN.length() - 1);
    try (Guarded guarded = Guarded.closed(service)) {
      for (String authorization :
          List.of(
              "Bearer " + almost,
              GOOD + "0",
              "Bearer " + Guarded.TOKEN.toUpperCase(),
              "Bearer",
              "Bearer  ",
              "Basic " + Guarded.TOKEN,
              "Token " + Guarded.TOKEN,
              Guarded.TOKEN,
              "Basic OnNvYWtiZW5jaA==",
              "Bearer " + "x".repeat(4000))) {
        HttpResponse<String> answer =
            guarded.ask(
                "POST",
                "/api/samples?token=" + Guarded.TOKEN,
                lines,
                "Authorization",
                authorization,
                "Content-Type",
                "application/x-ndjson");
        assertThat(answer.statusCode()).as(authorization).isEqualTo(401);
        JsonNode problem = Http.problem(answer, 401, "token-needed");
        assertThat(answer.body()).doesNotContain(almost);
        assertThat(problem.get("detail").asText()).matches("The (token|Authorization header) .*");
      }
      assertThat(service.http.json("/api/soaks?tracker=A-refused", "SoakList").get("soaks"))
          .isEmpty();
    }
  }

  @Test
  void readingMayBeLeftOpenWhileWritingIsNot(Service service) {
    try (Guarded guarded = Guarded.with(service, AccessSettings.OPEN)) {
      guarded.http.json("/api/readiness", "ReadinessList");
      assertThat(guarded.http.get("/").statusCode()).isEqualTo(200);
      Http.problem(
          guarded.ask("PUT", "/api/trackers/A-1", "{}", "Content-Type", "application/json"),
          401,
          "token-needed");
      Http.problem(guarded.ask("POST", "/api/pairing-codes", ""), 401, "token-needed");
      Http.problem(guarded.ask("POST", "/api/soaks/none/end", ""), 401, "token-needed");
    }
  }

  @Test
  void aLargeUploadThatIsRefusedReadsWhy(Service service) {
    String lines = Lines.steady("A-large", Service.START_US, 1500);
    try (Guarded guarded = Guarded.closed(service)) {
      for (int i = 0; i < 20; i++) {
        Http.problem(
            guarded.ask("POST", "/api/samples", lines, "Content-Type", "application/x-ndjson"),
            401,
            "token-needed");
      }
    }
  }

  @Test
  void whoSendsARefusedBodySlowlyReadsWhyToo(Service service) throws Exception {
    byte[] part = new byte[2 * 1024];
    try (Guarded guarded = Guarded.closed(service);
        Socket socket = new Socket("127.0.0.1", guarded.server.port())) {
      socket.setSoTimeout(20_000);
      OutputStream out = socket.getOutputStream();
      String head =
          "POST /api/samples HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/csv\r\n"
              + "Content-Length: %d\r\n\r\n".formatted(30 * part.length);
      out.write(head.getBytes(StandardCharsets.US_ASCII));
      for (int i = 0; i < 30; i++) {
        out.write(part);
        Thread.sleep(5);
      }
      String answer = new String(socket.getInputStream().readNBytes(12), StandardCharsets.US_ASCII);
      assertThat(answer).isEqualTo("HTTP/1.1 401");
    }
  }

  @Test
  void theTokenIsNeitherPrintedNorLogged(Service service) {
    Logger root = (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
    Logger own = (Logger) LoggerFactory.getLogger("soakbench");
    ListAppender<ILoggingEvent> logged = new ListAppender<>();
    logged.start();
    Level before = own.getLevel();
    own.setLevel(Level.ALL);
    root.addAppender(logged);
    try (Guarded guarded = Guarded.closed(service)) {
      guarded.http.get("/api/readiness", "Authorization", GOOD);
      guarded.http.get("/api/readiness", "Authorization", "Basic " + Guarded.TOKEN);
      guarded.ask("POST", "/api/samples", "x", "Authorization", GOOD);
    } finally {
      root.detachAppender(logged);
      own.setLevel(before);
    }
    assertThat(logged.list).noneMatch(e -> e.getFormattedMessage().contains(Guarded.TOKEN));
    assertThat(new AccessToken(Guarded.TOKEN).toString()).doesNotContain(Guarded.TOKEN);
    assertThat(AccessSettings.OPEN.withToken(new AccessToken(Guarded.TOKEN)).toString())
        .doesNotContain(Guarded.TOKEN);
  }

  @Test
  void aTokenThatIsShortOrCannotBeSentIsNamedWithoutQuotingIt() {
    assertThat(AccessToken.problem("a".repeat(20))).isEmpty();
    assertThat(AccessToken.problem("a".repeat(19)).orElseThrow()).contains("19 characters", "20");
    assertThat(AccessToken.problem("")).isPresent();
    assertThat(AccessToken.problem("qz " + "c".repeat(30)).orElseThrow()).doesNotContain("qz");
    assertThat(AccessToken.problem("ä".repeat(30))).isPresent();
    assertThat(AccessToken.problem("a".repeat(2000))).isPresent();
  }
}
