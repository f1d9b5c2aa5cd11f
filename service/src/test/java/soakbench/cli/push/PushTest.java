package soakbench.cli.push;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.ArrayDeque;
import java.util.Deque;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.api.Service;
import soakbench.cli.Main;

/** Tables of a real service posted to a real server outside. */
@ExtendWith(Service.Running.class)
class PushTest {
  private record Posted(String query, String type, String authorization, String body) {}

  private final List<Posted> posted = new CopyOnWriteArrayList<>();
  private final Deque<Integer> answers = new ArrayDeque<>();
  private HttpServer outside;

  @TempDir private Path folder;

  @BeforeEach
  void listen() throws IOException {
    outside = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    outside.createContext("/hook", this::take);
    outside.start();
  }

  @AfterEach
  void close() {
    outside.stop(0);
  }

  private void take(HttpExchange exchange) throws IOException {
    byte[] body = exchange.getRequestBody().readAllBytes();
    int answer = answers.isEmpty() ? 204 : answers.poll();
    if (answer == 204) {
      posted.add(
          new Posted(
              exchange.getRequestURI().getRawQuery(),
              exchange.getRequestHeaders().getFirst("Content-Type"),
              exchange.getRequestHeaders().getFirst("Authorization"),
              new String(body, StandardCharsets.UTF_8)));
    }
    exchange.sendResponseHeaders(answer, -1);
    exchange.close();
  }

  private String address() {
    return "http://127.0.0.1:" + outside.getAddress().getPort() + "/hook?key=k1";
  }

  private static String run(int exit, String... args) {
    StringWriter out = new StringWriter();
    CommandLine line = Main.commandLine();
    line.setOut(new PrintWriter(out, true));
    line.setErr(new PrintWriter(out, true));
    assertThat(line.execute(args)).as(out.toString()).isEqualTo(exit);
    return out.toString();
  }

  @Test
  void aTableThatCanNotBeReadIsSaidAndTheOthersArePosted(Service service) {
    String said =
        run(
            1,
            "push",
            "--once",
            "--to=" + address(),
            "--from=" + service.server.url(),
            "--tables=alarms,trackers",
            "--query=columns=id,lot");
    assertThat(said).contains("alarms: NOT sent: the service answered 400", "trackers: ");
    assertThat(posted).hasSize(1);
  }

  @Test
  void whatIsTakenIsSaidAndSecretsAreNot(Service service) throws IOException {
    service.http.send("PUT", "/api/trackers", "text/csv", "id,lot\nPush-1,P9\nPush-2,P9\n");
    Path token = Files.writeString(folder.resolve("token"), "outside-secret\n");
    String said =
        run(
            0,
            "push",
            "--once",
            "--to=" + address(),
            "--from=" + service.server.url(),
            "--tables=trackers",
            "--query=lot=P9&columns=id,lot&decimal=comma",
            "--token-file=" + token);
    assertThat(posted)
        .containsExactly(
            new Posted(
                "key=k1&table=trackers",
                "text/csv; charset=utf-8",
                "Bearer outside-secret",
                "id;lot\r\nPush-1;P9\r\nPush-2;P9\r\n"));
    assertThat(said)
        .contains("trackers: 2 rows, 30 bytes sent to http://127.0.0.1:")
        .doesNotContain("k1", "outside-secret");
  }

  @Test
  void whatHasNotChangedIsNotSentAgain(Service service) throws Exception {
    service.http.send("PUT", "/api/trackers", "text/csv", "id,lot\nPush-3,P8\n");
    PushedTables tables =
        new PushedTables(
            service.server.url(), "lot=P8", null, java.net.http.HttpClient.newHttpClient());
    PushedTables.Read first = tables.read("trackers").orElseThrow();
    assertThat(first.rows()).isEqualTo(1);
    assertThat(tables.read("trackers")).as("it has not arrived yet").isPresent();
    tables.sent("trackers", first);
    assertThat(tables.read("trackers")).isEmpty();
    service.http.send("PATCH", "/api/trackers/Push-3", "application/json", "{\"note\":\"new\"}");
    assertThat(tables.read("trackers")).isPresent();
  }

  @Test
  void whatIsNotTakenIsTriedAgainUntilItIs() throws Exception {
    answers.addAll(List.of(503, 429, 500));
    TablePost post = new TablePost(target(false), Duration.ofMillis(20));
    assertThat(post.send("figures", "a\r\n1\r\n".getBytes(StandardCharsets.UTF_8), PATIENCE))
        .isEqualTo(4);
    assertThat(posted).hasSize(1);
  }

  private static final Duration PATIENCE = Duration.ofSeconds(30);

  private PushTarget target(boolean redirectTaken) {
    return PushTarget.of(address(), null, false, redirectTaken);
  }

  @Test
  void whatIsRefusedIsNotTriedAgainAndARedirectOnlyCountsWhereThatIsSaid() throws Exception {
    TablePost post = new TablePost(target(false), Duration.ofMillis(20));
    answers.addAll(List.of(403, 302, 302));
    byte[] csv = "a\r\n".getBytes(StandardCharsets.UTF_8);
    assertThatThrownBy(() -> post.send("figures", csv, PATIENCE)).hasMessageContaining("403");
    assertThatThrownBy(() -> post.send("figures", csv, PATIENCE))
        .hasMessageContaining("--redirect-is-taken");
    assertThat(new TablePost(target(true), Duration.ofMillis(20)).send("figures", csv, PATIENCE))
        .isEqualTo(1);
  }

  @Test
  void aServiceThatIsNotThereIsNamedAndNotTakenForTheAddress() {
    String from = "http://127.0.0.1:" + outside.getAddress().getPort();
    outside.stop(0);
    String to = "--to=http://localhost:1/hook";
    assertThat(run(1, "push", "--once", to, "--from=" + from, "--tables=alarms,soaks"))
        .contains("posting alarms, soaks of " + from)
        .contains("soaks: NOT sent: the service at " + from + " can't be reached");
  }

  @Test
  void whereNobodyAnswersItIsGivenUpInWords() {
    outside.stop(0);
    TablePost post = new TablePost(target(false), Duration.ofMillis(5));
    assertThatThrownBy(() -> post.send("figures", new byte[0], Duration.ofMillis(100)))
        .hasMessageContaining("nobody answers there; tried ");
  }
}
