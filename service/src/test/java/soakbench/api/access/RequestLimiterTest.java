package soakbench.api.access;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.InputStream;
import java.net.Socket;
import java.net.URI;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Schemas;
import soakbench.api.Service;
import soakbench.api.events.EventListener;
import soakbench.api.samples.UploadLimits;

/** What one client can't take from the others, over real HTTP. */
@ExtendWith(Service.Running.class)
class RequestLimiterTest {
  private static final Duration LONG = Duration.ofMinutes(15);

  private static ApiServer server(Service service, AccessLimits limits) {
    return server(service, limits, Duration.ofSeconds(30));
  }

  private static ApiServer server(Service service, AccessLimits limits, Duration idle) {
    ApiSettings settings =
        ApiSettings.local(0)
            .withUploads(UploadLimits.DEFAULT.withLargestBytes(1 << 20))
            .withStreams(new ApiSettings.Streams(100, Duration.ofMillis(200)))
            .withIdle(idle)
            .withAccess(AccessSettings.OPEN.withLimits(limits));
    return ApiServer.start(settings, service.watch, service.database, service.nowUs::get);
  }

  @Test
  void moreRequestsASecondThanAShareAreToldToWait(Service service) {
    AccessLimits ten = new AccessLimits(10, 20, 50, 50, 10, LONG);
    try (ApiServer server = server(service, ten)) {
      Http http = new Http(server.url());
      int taken = 0;
      HttpResponse<String> answer = http.get("/api/trackers");
      while (answer.statusCode() == 200 && taken < 5_000) {
        taken++;
        answer = http.get("/api/trackers");
      }
      assertThat(taken).as("a burst is taken").isGreaterThanOrEqualTo(20);
      JsonNode problem = Http.problem(answer, 429, "too-many-requests");
      assertThat(problem.get("detail").asText()).contains("share");
      assertThat(answer.headers().firstValue("Retry-After")).hasValue("1");
      await().until(() -> http.get("/api/trackers").statusCode() == 200);
    }
  }

  @Test
  void moreRequestsAtOnceThanAShareAreRefusedUntilOthersEnd(Service service) throws IOException {
    AccessLimits three = new AccessLimits(0, 0, 3, 50, 10, LONG);
    try (ApiServer server = server(service, three)) {
      Http http = new Http(server.url());
      List<Socket> slow = new ArrayList<>();
      for (int i = 0; i < 3; i++) {
        slow.add(begun(server.url(), 100));
      }
      await().until(() -> http.get("/api/trackers").statusCode() == 429);
      Http.problem(http.get("/api/trackers"), 429, "too-many-requests");
      slow.get(0).close();
      await().until(() -> http.get("/api/trackers").statusCode() == 200);
      for (Socket each : slow) {
        each.close();
      }
    }
  }

  @Test
  void moreRequestsAtOnceThanAllMayHaveAreRefusedAndHealthIsAnswered(Service service)
      throws IOException {
    AccessLimits many = new AccessLimits(0, 0, 500, 500, 10, LONG);
    try (ApiServer server = server(service, many)) {
      Http http = new Http(server.url());
      List<Socket> slow = new ArrayList<>();
      for (int i = 0; i < RequestLimiter.MOST_IN_FLIGHT; i++) {
        slow.add(begun(server.url(), 100));
      }
      await()
          .until(
              () -> {
                // The question itself takes a place, and may have kept one of these out of it.
                slow.add(begun(server.url(), 100));
                return http.get("/api/trackers").statusCode() == 503;
              });
      Http.problem(http.get("/api/trackers"), 503, "busy");
      assertThat(http.get("/health").statusCode()).isEqualTo(200);
      for (Socket each : slow) {
        each.close();
      }
      await().until(() -> http.get("/api/trackers").statusCode() == 200);
    }
  }

  /** A POST that declares a body and sends the first bytes of it. */
  private static Socket begun(URI base, int declared) throws IOException {
    Socket socket = new Socket(base.getHost(), base.getPort());
    socket.setSoTimeout(20_000);
    String head =
        "POST /api/samples HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/csv\r\n"
            + "Content-Length: "
            + declared
            + "\r\n\r\nid,time";
    socket.getOutputStream().write(head.getBytes(StandardCharsets.US_ASCII));
    return socket;
  }

  @Test
  void moreConnectionsThanAShareAreClosedAndTheOthersGoOn(Service service) throws IOException {
    AccessLimits five = new AccessLimits(0, 0, 50, 5, 10, LONG);
    try (ApiServer server = server(service, five)) {
      List<Socket> open = new ArrayList<>();
      for (int i = 0; i < 5; i++) {
        open.add(asked(server.url()));
        assertThat(firstByte(open.get(i))).isEqualTo('H');
      }
      try (Socket sixth = asked(server.url())) {
        assertThat(firstByte(sixth)).isEqualTo(-1);
      }
      open.get(0).close();
      await()
          .until(
              () -> {
                try (Socket next = asked(server.url())) {
                  return firstByte(next) == 'H';
                }
              });
      for (Socket each : open) {
        each.close();
      }
    }
  }

  private static Socket asked(URI base) throws IOException {
    Socket socket = new Socket(base.getHost(), base.getPort());
    socket.setSoTimeout(20_000);
    try {
      socket
          .getOutputStream()
          .write(
              "GET /favicon.svg HTTP/1.1\r\nHost: localhost\r\n\r\n"
                  .getBytes(StandardCharsets.US_ASCII));
    } catch (IOException closed) {
      // It was closed before it could ask; the reading says so too.
      assertThat(closed).hasMessageMatching(".*(reset|pipe).*");
    }
    return socket;
  }

  private static int firstByte(Socket socket) {
    try {
      return socket.getInputStream().read();
    } catch (IOException reset) {
      return -1;
    }
  }

  @Test
  void oneClientsEventStreamsLeavePlacesForOthers(Service service) throws IOException {
    AccessLimits two = new AccessLimits(0, 0, 50, 50, 2, LONG);
    try (ApiServer server = server(service, two);
        EventListener first = new EventListener(server.url(), 0).reading();
        EventListener second = new EventListener(server.url(), 0).reading()) {
      await().until(() -> first.lines.contains("event: readiness"));
      await().until(() -> second.lines.contains("event: readiness"));
      Http http = new Http(server.url());
      JsonNode problem =
          Http.problem(
              http.get("/api/events", "Accept", "text/event-stream"), 429, "too-many-requests");
      assertThat(problem.get("detail").asText()).contains("listens 2 times already");
      first.close();
      await()
          .until(
              () -> {
                try (EventListener third = new EventListener(server.url(), 0).reading()) {
                  await().until(() -> !third.lines.isEmpty());
                  return third.lines.get(0).contains("200");
                }
              });
    }
  }

  @Test
  void aHundredEventStreamsAndAllOtherPlacesTakenLeaveHealthItsAnswer(Service service)
      throws IOException {
    AccessLimits local = AccessLimits.LOCAL;
    List<AutoCloseable> open = new ArrayList<>();
    try (ApiServer server = server(service, local, Duration.ofSeconds(60))) {
      Http http = new Http(server.url());
      for (int i = 0; i < local.eventStreams(); i++) {
        EventListener listener = new EventListener(server.url(), 0).reading();
        open.add(listener);
        // Each stream is first told all open soaks, and other tests leave many on this service.
        await()
            .pollInterval(Duration.ofMillis(5))
            .atMost(Duration.ofMinutes(1))
            .until(() -> !listener.lines.isEmpty());
        assertThat(listener.lines.get(0)).contains("200");
      }
      assertThat(http.get("/api/events", "Accept", "text/event-stream").statusCode())
          .isEqualTo(503);
      assertThat(http.get("/api/limits").statusCode()).isEqualTo(200);
      for (int i = 0; i < local.inFlight(); i++) {
        open.add(begun(server.url(), 100));
      }
      await()
          .until(
              () -> {
                // The question itself takes a place, and may have kept one of these out of it.
                open.add(begun(server.url(), 100));
                return http.get("/api/limits").statusCode() == 429;
              });
      for (int i = 0; i < 20; i++) {
        long beganNs = System.nanoTime();
        assertThat(http.get("/health").statusCode()).isEqualTo(200);
        assertThat(Duration.ofNanos(System.nanoTime() - beganNs)).isLessThan(Duration.ofSeconds(1));
      }
    } finally {
      for (AutoCloseable each : open) {
        closeQuietly(each);
      }
    }
  }

  private static void closeQuietly(AutoCloseable each) {
    try {
      each.close();
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  @Test
  void healthIsAskedAsOftenAsOneLikes(Service service) {
    AccessLimits ten = new AccessLimits(10, 20, 50, 50, 10, LONG);
    try (ApiServer server = server(service, ten)) {
      Http http = new Http(server.url());
      for (int i = 0; i < 200; i++) {
        assertThat(http.get("/health").statusCode()).isEqualTo(200);
      }
    }
  }

  @Test
  void aBodyThatTricklesInIsCutOffInTheEndWhileOthersAreAnswered(Service service) throws Exception {
    AccessLimits brief = new AccessLimits(0, 0, 50, 50, 10, Duration.ofSeconds(2));
    try (ApiServer server = server(service, brief);
        Socket slow = begun(server.url(), 1_000_000)) {
      long beganNs = System.nanoTime();
      Http http = new Http(server.url());
      int sent = trickle(slow, () -> http.get("/api/trackers").statusCode());
      long tookMs = TimeUnit.NANOSECONDS.toMillis(System.nanoTime() - beganNs);
      assertThat(sent).isLessThan(100_000);
      assertThat(tookMs).isBetween(1_500L, 15_000L);
    }
  }

  private interface Other {
    int status();
  }

  /** Sends 200 bytes at a time, fast enough for the bound on the rate, until the line is cut. */
  private static int trickle(Socket slow, Other other) {
    int sent = 0;
    try {
      for (; sent < 100_000; sent += 200) {
        slow.getOutputStream().write(new byte[200]);
        slow.getOutputStream().flush();
        assertThat(other.status()).isEqualTo(200);
        TimeUnit.MILLISECONDS.timedJoin(Thread.currentThread(), 20);
      }
    } catch (IOException cut) {
      return sent;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
    return sent;
  }

  @Test
  void aRosterThatStopsComingIsToldSo(Service service) throws IOException {
    try (ApiServer server = server(service, AccessLimits.LOCAL, Duration.ofMillis(300));
        Socket socket = new Socket("127.0.0.1", server.port())) {
      socket.setSoTimeout(20_000);
      String head =
          "PUT /api/trackers HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/csv\r\n"
              + "Content-Length: 100\r\n\r\nid,na";
      socket.getOutputStream().write(head.getBytes(StandardCharsets.US_ASCII));
      String answer = read(socket);
      assertThat(answer).startsWith("HTTP/1.1 408").contains("stopped coming");
      Schemas.valid(answer.split("\r\n\r\n", 2)[1], "Problem");
    }
  }

  @Test
  void aHeadThatNeverEndsIsClosed(Service service) throws IOException {
    try (ApiServer server = server(service, AccessLimits.LOCAL, Duration.ofMillis(300));
        Socket socket = new Socket("127.0.0.1", server.port())) {
      socket.setSoTimeout(20_000);
      socket
          .getOutputStream()
          .write("GET / HTTP/1.1\r\nHost: localhost\r\nX: ".getBytes(StandardCharsets.US_ASCII));
      assertThat(read(socket)).doesNotContain("200 OK");
    }
  }

  @Test
  void anOverLongBodyEndsWithoutBeingReadWhole(Service service) throws IOException {
    try (ApiServer server = server(service, AccessLimits.LOCAL)) {
      String answer =
          Guarded.bare(
              server.url(),
              "POST /api/samples HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/csv\r\n"
                  + "Content-Length: 999999999999\r\n");
      assertThat(answer).startsWith("HTTP/1.1 413");
      assertThat(Schemas.valid(answer.split("\r\n\r\n", 2)[1], "Problem").get("detail").asText())
          .contains("1048576 bytes");
    }
  }

  private static String read(Socket socket) throws IOException {
    InputStream in = socket.getInputStream();
    return new String(in.readAllBytes(), StandardCharsets.UTF_8);
  }

  @Test
  void clientsAreToldApartByAddressAndOfIpv6ByNetwork() {
    assertThat(RequestLimiter.client("192.0.2.1")).isNotEqualTo(RequestLimiter.client("192.0.2.2"));
    assertThat(RequestLimiter.client("2001:db8:0:1::1"))
        .isEqualTo(RequestLimiter.client("2001:db8:0:1:ffff::2"))
        .isNotEqualTo(RequestLimiter.client("2001:db8:0:2::1"));
    assertThat(RequestLimiter.client("::ffff:192.0.2.1"))
        .isEqualTo(RequestLimiter.client("192.0.2.1"));
  }
}
