package soakbench.api.alarms;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.atomic.AtomicInteger;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.api.Schemas;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;

/** Alarms posted to a real HTTP server that is slow, fails, and works. */
class AlarmWebhookTest {
  private final AlarmRegistry registry = new AlarmRegistry();
  private final List<String> taken = new CopyOnWriteArrayList<>();
  private final List<String> tokens = new CopyOnWriteArrayList<>();
  private final AtomicInteger asked = new AtomicInteger();
  private final CountDownLatch mayAnswer = new CountDownLatch(1);
  private final ExecutorService threads = Executors.newCachedThreadPool();
  private HttpServer server;

  @BeforeEach
  void serve() throws IOException {
    server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
    server.setExecutor(threads);
    server.createContext("/", this::handle);
    server.start();
  }

  @AfterEach
  void stop() {
    mayAnswer.countDown();
    server.stop(0);
    threads.shutdownNow();
  }

  /** First no answer, then a failure, then a redirect, then well. */
  private void handle(HttpExchange exchange) throws IOException {
    String body = new String(exchange.getRequestBody().readAllBytes(), StandardCharsets.UTF_8);
    int nth = asked.incrementAndGet();
    if (exchange.getRequestURI().getPath().equals("/elsewhere")) {
      throw new AssertionError("a redirect was followed");
    }
    if (nth == 1) {
      await(mayAnswer);
    }
    if (nth == 3) {
      exchange.getResponseHeaders().set("Location", "/elsewhere");
    }
    if (nth > 3) {
      // Before the answer: the next one may come, on another thread, as soon as that is out.
      taken.add(body);
      tokens.add(String.valueOf(exchange.getRequestHeaders().getFirst("Authorization")));
    }
    exchange.sendResponseHeaders(nth < 3 ? 500 : nth == 3 ? 302 : 204, -1);
    exchange.close();
  }

  private static void await(CountDownLatch latch) {
    try {
      latch.await();
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private void raise(String tracker, long nowUs) {
    registry.report(
        AlarmCause.plain(Kind.HOT, Severity.SEVERE, tracker, tracker + " is hot.", "Look."), nowUs);
  }

  @Test
  void alarmsReachASlowAndFailingServerInTheEndInOrderAndHoldNobodyUp() {
    URI url = URI.create("http://127.0.0.1:" + server.getAddress().getPort() + "/hook");
    try (AlarmWebhook post =
        new AlarmWebhook(url, () -> "secret", Duration.ofSeconds(1), Duration.ofMinutes(1))) {
      registry.subscribe(post);
      long beganNs = System.nanoTime();
      raise("T-1", 0);
      for (int i = 2; i < 5000; i++) {
        raise("T-" + i, 0);
      }
      assertThat(Duration.ofNanos(System.nanoTime() - beganNs)).isLessThan(Duration.ofSeconds(5));
      org.awaitility.Awaitility.await()
          .atMost(Duration.ofSeconds(60))
          .until(() -> taken.size() >= 3);
      for (int i = 0; i < 3; i++) {
        JsonNode change = Schemas.valid(taken.get(i), "AlarmChange");
        assertThat(change.get("change").asText()).isEqualTo("raised");
        assertThat(change.at("/alarm/tracker").asText()).isEqualTo("T-" + (i + 1));
      }
      assertThat(tokens).allMatch("Bearer secret"::equals);
    }
  }

  @Test
  void anAlarmThatIsNotTakenInTimeIsGivenUpAndTheNextOneSent() {
    URI url = URI.create("http://127.0.0.1:" + server.getAddress().getPort() + "/hook");
    // The first is not answered within its whole time: the second has the next turn.
    try (AlarmWebhook post =
        new AlarmWebhook(url, () -> null, Duration.ofMillis(500), Duration.ofMillis(700))) {
      registry.subscribe(post);
      raise("T-1", 0);
      raise("T-2", 0);
      raise("T-3", 0);
      raise("T-4", 0);
      raise("T-5", 0);
      org.awaitility.Awaitility.await()
          .atMost(Duration.ofSeconds(60))
          .until(() -> !taken.isEmpty());
      assertThat(Schemas.valid(taken.get(0), "AlarmChange").at("/alarm/tracker").asText())
          .isNotEqualTo("T-1");
      assertThat(tokens.get(0)).isEqualTo("null");
    }
  }
}
