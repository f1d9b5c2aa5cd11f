package soakbench.api.events;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URI;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.ApiServer;
import soakbench.api.ApiSettings;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Schemas;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;
import soakbench.live.watch.SoakWatch;

@ExtendWith(Service.Running.class)
class EventTest {
  private static final long A_MINUTE_US = 60_000_000L;

  @Test
  void aListenerHearsHowThingsStandThenChangesThenFigures(Service service) throws IOException {
    SoakTest.send(service, Lines.steady("E-before", Service.START_US, 100));
    try (EventListener listener = new EventListener(service.http.base(), 0).reading()) {
      await().until(() -> !listener.data("readiness").isEmpty());
      assertThat(listener.lines.get(0)).isEqualTo("HTTP/1.1 200 OK");
      assertThat(listener.lines).contains("Content-Type: text/event-stream");
      assertThat(listener.data("readiness").get(0)).contains("\"tracker\":\"E-before\"");

      SoakTest.send(service, Lines.steady("E-new", Service.START_US, 100));
      await().until(() -> heard(listener, "readiness", "E-new"));
      await().until(() -> heard(listener, "figures", "E-new"));
      for (String event : List.of("readiness", "figures")) {
        for (String data : listener.data(event)) {
          JsonNode trackers = Schemas.valid(data, "VerdictEvent").get("trackers");
          assertThat(trackers).isNotEmpty();
        }
      }
    }
  }

  @Test
  void aListenerOfOneRackHearsOnlyOfItsTrackers(Service service) throws IOException {
    service.http.send("PUT", "/api/trackers/E-on", "application/json", "{\"rack\": \"R1\"}");
    URI base = service.http.base();
    try (EventListener all = new EventListener(base, 0).reading();
        EventListener one = new EventListener(base, 0, "/api/events?rack=R1").reading()) {
      await().until(() -> !one.data("readiness").isEmpty() && !all.data("readiness").isEmpty());
      SoakTest.send(service, Lines.steady("E-off", Service.START_US, 100));
      SoakTest.send(service, Lines.steady("E-on", Service.START_US, 100));
      await().until(() -> heard(one, "readiness", "E-on") && heard(one, "figures", "E-on"));
      await().until(() -> heard(all, "readiness", "E-off") && heard(all, "figures", "E-off"));
      assertThat(heard(one, "readiness", "E-off") || heard(one, "figures", "E-off")).isFalse();
    }
  }

  @Test
  void whereNothingIsInAHandThatIsToldOnce(Service service) throws IOException {
    try (EventListener listener = new EventListener(service.http.base(), 0).reading()) {
      SoakTest.send(service, Lines.steady("E-hand", Service.START_US, 200));
      await().until(() -> !listener.data("in_hand").isEmpty());
      assertThat(Schemas.valid(listener.data("in_hand").get(0), "InHandEvent").get("trackers"))
          .isEmpty();
    }
  }

  private static boolean heard(EventListener listener, String event, String tracker) {
    return listener.data(event).stream().anyMatch(d -> d.contains("\"" + tracker + "\""));
  }

  @Test
  void aListenerHearsWhenASoakEndedAndThatTheLineLivesWhileNothingHappens(Service service)
      throws IOException {
    SoakTest.send(service, Lines.steady("E-end", Service.START_US, 100));
    try (EventListener listener = new EventListener(service.http.base(), 0).reading()) {
      await().until(() -> heard(listener, "readiness", "E-end"));
      String soak = SoakTest.soakOf(service, "E-end");
      Http.json(service.http.send("POST", "/api/soaks/" + soak + "/end", null, ""), "Soak");
      await().until(() -> heard(listener, "ended", "E-end"));
      assertThat(Schemas.valid(listener.data("ended").get(0), "EndedEvent").get("trackers"))
          .isNotEmpty();
      await().until(() -> listener.lines.contains(": still here"));
    }
  }

  @Test
  void aListenerThatStopsReadingIsCutOffAndHoldsNobodyUp(Service service) throws IOException {
    try (EventListener stalled = new EventListener(service.http.base(), 1024);
        EventListener other = new EventListener(service.http.base(), 0).reading()) {
      await().until(() -> !other.data("readiness").isEmpty());
      // Every minute of silence between the lines of many trackers makes new verdicts: enough to
      // fill what the system takes in for a client that does not read, and its queue.
      List<Thread> before = writers();
      int round = 0;
      long startNs = System.nanoTime();
      // By time: a quick database makes fewer events of as many lines, for they are told together.
      while (writers().size() >= before.size()
          && System.nanoTime() - startNs < TimeUnit.SECONDS.toNanos(60)) {
        StringBuilder lines = new StringBuilder();
        for (int tracker = 0; tracker < 60; tracker++) {
          lines.append(
              Lines.steady("E-many" + tracker, Service.START_US + ++round * A_MINUTE_US, 12));
        }
        long beganNs = System.nanoTime();
        SoakTest.send(service, lines.toString());
        assertThat(Duration.ofNanos(System.nanoTime() - beganNs))
            .isLessThan(Duration.ofSeconds(10));
      }
      assertThat(writers())
          .as("the stalled client's writer is gone")
          .hasSizeLessThan(before.size());
      int heard = other.data("readiness").size();
      SoakTest.send(service, Lines.steady("E-after", Service.START_US, 100));
      await().until(() -> other.data("readiness").size() > heard);
      assertThat(other.ended()).isFalse();
    }
  }

  private static List<Thread> writers() {
    List<Thread> writers = new ArrayList<>();
    Thread.getAllStackTraces()
        .forEach(
            (thread, stack) -> {
              for (StackTraceElement frame : stack) {
                if (frame.getClassName().equals(EventClient.class.getName())
                    && frame.getMethodName().equals("run")) {
                  writers.add(thread);
                }
              }
            });
    return writers;
  }

  @Test
  void withoutAskingForAStreamThereIsNone(Service service) {
    JsonNode problem = Http.problem(service.http.get("/api/events"), 406, "not-acceptable");
    assertThat(problem.get("detail").asText()).contains("Accept: text/event-stream");
  }

  @Test
  void listenersBeyondTheLimitAreToldToComeLater(Service service) throws IOException {
    ApiSettings two =
        ApiSettings.local(0).withStreams(new ApiSettings.Streams(2, Duration.ofMillis(100)));
    SoakWatch watch = service.watch;
    try (ApiServer server = ApiServer.start(two, watch, service.database, () -> 0);
        EventListener first = new EventListener(server.url(), 0).reading();
        EventListener second = new EventListener(server.url(), 0).reading()) {
      await().until(() -> first.lines.contains("event: readiness"));
      await().until(() -> second.lines.contains("event: readiness"));
      Http http = new Http(server.url());
      JsonNode problem =
          Http.problem(http.get("/api/events", "Accept", "text/event-stream"), 503, "busy");
      assertThat(problem.get("detail").asText()).contains("2 clients listen already");
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
  void stoppingTheServiceEndsItsListenersAtOnce(Service service) throws IOException {
    ApiServer server =
        ApiServer.start(ApiSettings.local(0), service.watch, service.database, () -> 0);
    try (EventListener listener = new EventListener(server.url(), 0).reading()) {
      await().until(() -> listener.lines.contains("event: readiness"));
      long beganNs = System.nanoTime();
      server.close();
      assertThat(Duration.ofNanos(System.nanoTime() - beganNs)).isLessThan(Duration.ofSeconds(5));
      await().until(listener::ended);
    }
  }
}
