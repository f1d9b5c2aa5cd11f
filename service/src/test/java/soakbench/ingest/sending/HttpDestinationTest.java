package soakbench.ingest.sending;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.atomic.AtomicReference;
import java.util.zip.GZIPInputStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.spool.SpooledSamples;
import soakbench.live.StoreException;
import soakbench.model.Sample;

/** What the agent makes of answers that a service, or something in between, may give. */
class HttpDestinationTest {

  /** A server on this computer that answers as told. */
  private record Said(int status, String body) {}

  private interface Answering {
    Said to(List<String> lines);
  }

  private HttpServer server;
  private final List<List<String>> requests = new CopyOnWriteArrayList<>();
  private final List<String> tokens = new CopyOnWriteArrayList<>();
  private final AtomicReference<String> token = new AtomicReference<>();
  private volatile Answering answering;
  private volatile long clockAheadS;
  private HttpDestination destination;

  @BeforeEach
  void start() throws IOException {
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.createContext("/", this::answer);
    server.start();
    destination =
        new HttpDestination(
            URI.create("http://127.0.0.1:" + server.getAddress().getPort()),
            token::get,
            () -> System.currentTimeMillis() + 1000 * clockAheadS);
  }

  @AfterEach
  void stop() {
    server.stop(0);
  }

  private void answer(HttpExchange exchange) {
    try (exchange) {
      if (exchange.getRequestURI().getPath().equals("/health")) {
        exchange.sendResponseHeaders(503, -1);
        return;
      }
      assertThat(exchange.getRequestURI().getPath()).isEqualTo("/api/samples");
      tokens.add(String.valueOf(exchange.getRequestHeaders().getFirst("Authorization")));
      String text =
          new String(
              new GZIPInputStream(exchange.getRequestBody()).readAllBytes(),
              StandardCharsets.UTF_8);
      List<String> lines = text.lines().toList();
      requests.add(lines);
      Said said = answering.to(lines);
      byte[] body = said.body().getBytes(StandardCharsets.UTF_8);
      exchange.sendResponseHeaders(said.status(), body.length);
      exchange.getResponseBody().write(body);
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }

  private static Said taken(int lines) {
    return new Said(
        200,
        "{\"accepted\":%d,\"duplicate\":0,\"conflicting\":0,\"rejected\":0,\"problems\":[]}"
            .formatted(lines));
  }

  private Said all(List<String> lines) {
    return taken(lines.size());
  }

  private StoreException refused(int count) {
    return catchThrowableOfType(
        StoreException.class, () -> destination.send(SpooledSamples.of(0, count)));
  }

  @Test
  void aBatchTooLargeIsHalvedUntilItGetsThrough() throws Exception {
    answering = lines -> lines.size() > 100 ? new Said(413, "too large") : all(lines);
    Destination.Receipt receipt = destination.send(SpooledSamples.of(0, 1000));
    assertThat(receipt.outcome().accepted()).isEqualTo(1000);
    assertThat(receipt.refused()).isEmpty();
    List<String> taken =
        requests.stream().filter(r -> r.size() <= 100).flatMap(List::stream).toList();
    assertThat(taken)
        .isEqualTo(SpooledSamples.of(0, 1000).stream().map(SampleLines::line).toList());
  }

  @ParameterizedTest
  @CsvSource({"413", "422"})
  void oneLineThatIsRefusedByItselfIsSingledOutAndTheOthersGetThrough(int status) throws Exception {
    List<Sample> samples = SpooledSamples.of(0, 500);
    String bad = SampleLines.line(samples.get(321));
    answering =
        lines ->
            lines.contains(bad)
                ? new Said(status, "{\"detail\":\"This line will not do.\"}")
                : all(lines);
    Destination.Receipt receipt = destination.send(samples);
    assertThat(receipt.refused())
        .containsExactly(new Destination.Refusal(321, "This line will not do.", false));
    assertThat(receipt.outcome().accepted()).isEqualTo(499);
  }

  @ParameterizedTest
  @CsvSource({
    "401, Check --token-file.",
    "403, Check --token-file.",
    "404, Check the address given with --to.",
    "500, went wrong",
    "503, went wrong",
    "302, went wrong"
  })
  void anAnswerThatIsNoFaultOfTheLinesKeepsThemAllToBeSentAgain(int status, String said) {
    answering = lines -> new Said(status, "{\"detail\":\"It went wrong.\"}");
    StoreException refused = refused(300);
    assertThat(refused.transientFault()).isTrue();
    assertThat(refused.getMessage())
        .contains("answered " + status + ": It went wrong.", said)
        .hasLineCount(1);
    assertThat(requests).hasSize(1);
  }

  @Test
  void anotherServersOkIsNotTakenForAnAcknowledgement() {
    answering = lines -> new Said(200, "<html>Welcome! Please log in.</html>");
    assertThat(refused(10).getMessage()).contains("is that the service's address?");
    answering = lines -> new Said(200, "{\"status\":\"ok\"}");
    assertThat(refused(10).transientFault()).isTrue();
    answering = lines -> taken(lines.size() - 1);
    assertThat(refused(10).getMessage()).contains("not for the 10 samples that were sent");
  }

  @Test
  void nobodyThereIsSaidInOneSentence() {
    server.stop(0);
    assertThat(refused(1).getMessage())
        .startsWith("no answer from http://127.0.0.1:")
        .contains("nobody listens there")
        .hasLineCount(1);
  }

  @Test
  void theTokenIsAskedForAnewBeforeEachRequest() throws Exception {
    answering = this::all;
    destination.send(SpooledSamples.of(0, 1));
    token.set("first");
    destination.send(SpooledSamples.of(0, 1));
    token.set("second");
    destination.send(SpooledSamples.of(0, 1));
    assertThat(tokens).containsExactly("null", "Bearer first", "Bearer second");
  }

  @Test
  void aClockThatDiffersByMinutesIsSaidUntilItAgrees() throws Exception {
    answering = this::all;
    destination.send(SpooledSamples.of(0, 1));
    assertThat(destination.notice()).isEmpty();
    clockAheadS = 180;
    destination.send(SpooledSamples.of(0, 1));
    assertThat(destination.notice().orElseThrow())
        .matches("this computer's clock is (2.9|3.0) minutes ahead of the service's, .*");
    clockAheadS = -600;
    destination.send(SpooledSamples.of(0, 1));
    assertThat(destination.notice().orElseThrow())
        .matches("this computer's clock is (9.9|10.0) minutes behind the service's, .*");
    clockAheadS = 50;
    destination.send(SpooledSamples.of(0, 1));
    assertThat(destination.notice()).isEmpty();
  }

  @Test
  void aClockThatIsOffByOverHalfAMinuteIsLeftForTheServicesAndTakenAgainWhenItIsSet() {
    for (long aheadS : new long[] {10_800, -10_800, 45, -45}) {
      clockAheadS = aheadS;
      ArrivalClock arrival = new ArrivalClock(destination::dateUs);
      destination.learnDate();
      assertThat(offS(arrival)).as("%s s ahead", aheadS).isBetween(-1.6, 1.6);
      clockAheadS = 0;
      assertThat(offS(arrival)).as("set right").isBetween(-1.6, 1.6);
    }
    clockAheadS = 20;
    destination.learnDate();
    assertThat(offS(new ArrivalClock(destination::dateUs))).isBetween(19.9, 20.1);
  }

  private static double offS(ArrivalClock clock) {
    return clock.nowUs() / 1e6 - System.currentTimeMillis() / 1e3;
  }

  @Test
  void whereTheServiceCantBeReachedItGoesOnByThisComputersClock() {
    server.stop(0);
    clockAheadS = 10_800;
    destination.learnDate();
    assertThat(offS(new ArrivalClock(destination::dateUs))).isBetween(10_799.9, 10_800.1);
  }
}
