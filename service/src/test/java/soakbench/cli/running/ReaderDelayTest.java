package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.concurrent.Callable;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.api.ApiSettings;
import soakbench.api.Lines;
import soakbench.cli.Serving;
import soakbench.store.SharedServer;
import soakbench.store.server.DatabaseSettings;

/**
 * How long after the writer's answer a service that only reads shows what was told: {@code mvn -B
 * test -Pbench -Dtest=ReaderDelayTest}.
 */
@Timeout(900)
class ReaderDelayTest {
  private static final String TRACKER = "D-1";
  private static final int ROUNDS = 50;
  private static final int WARM_S = 2_400;
  private static final int MORE_S = 900;
  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final Duration WITHIN = Duration.ofSeconds(1);

  private final DatabaseSettings database = SharedServer.empty();
  private final long startUs = System.currentTimeMillis() * 1000 - WARM_S * 1_000_000L;
  private final List<String> lines =
      Lines.warmUp(TRACKER, startUs, WARM_S + MORE_S, 2).lines().toList();
  private int posted;

  private Service started(Role role) {
    Service service =
        Service.opened(
            DatabaseSettings.url(SharedServer.url(database)),
            ApiSettings.local(0),
            null,
            new MonotonicClock(),
            null,
            role);
    service.begin(step -> {}, () -> {});
    return service;
  }

  @Test
  @Tag("bench")
  void statesMarksLimitsAndTheRosterOfTheWriterAreShownWithinASecond() throws Exception {
    try (Service writer = started(Role.WRITES);
        Service reader = started(Role.READS)) {
      send(writer, "PUT", "api/trackers/" + TRACKER, "{\"rates\":\"raw\"}");
      // On a busy machine a round may take longer than the usual limit.
      send(writer, "PUT", "api/limits", "{\"heard_within_s\":60}");
      postUntilNow(writer);
      await().atMost(PATIENCE).until(() -> text(reader, "state").equals("ready"));
      List<Duration> states = new ArrayList<>();
      List<Duration> marks = marks(writer, reader);
      List<Duration> limits = new ArrayList<>();
      List<Duration> limitsAgain = new ArrayList<>();
      List<Duration> names = new ArrayList<>();
      for (int i = 0; i < ROUNDS; i++) {
        Thread.sleep(1_000);
        postUntilNow(writer);
        states.add(shownAt(reader, text(writer, "as_of")));
        limits.add(limitsShownAt(writer, reader, 27 + 0.5 * (i % 2)));
        limitsAgain.add(limitsShownAt(writer, reader, 27.25 + 0.5 * (i % 2)));
        send(
            writer,
            "PUT",
            "api/trackers/" + TRACKER,
            "{\"rates\":\"raw\",\"name\":\"W" + i + "\"}");
        names.add(sameAt(writer, reader, node -> node.path("name").asText()));
        assertThat(text(reader, "name")).isEqualTo("W" + i);
      }
      System.out.printf(
          "a reader shows after ms (median, worst of %d; marks of %d): states %s, marks %s, limits"
              + " for soaks under way %s, others straight after them %s, the roster %s%n",
          ROUNDS,
          marks.size(),
          words(states),
          words(marks),
          words(limits),
          words(limitsAgain),
          words(names));
      assertThat(List.of(states, marks, limits, limitsAgain, names))
          .allSatisfy(each -> assertThat(each).allMatch(delay -> delay.compareTo(WITHIN) < 0));
    }
  }

  private static Duration limitsShownAt(Service writer, Service reader, double lowC)
      throws Exception {
    send(writer, "PUT", "api/limits?now=true", "{\"band_low_c\":" + lowC + "}");
    Duration delay = sameAt(writer, reader, ReaderDelayTest::bandLowC);
    assertThat(bandLowC(tracker(reader))).isEqualTo(lowC);
    return delay;
  }

  /** One and the same mark, told and undone, as long as its check does not say to do it again. */
  private List<Duration> marks(Service writer, Service reader) throws Exception {
    String all = "api/trackers/" + TRACKER + "/calibrations";
    String at = send(writer, "POST", all, "").get("at").asText();
    List<Duration> delays = new ArrayList<>();
    while (delays.size() < ROUNDS && !text(writer, "next_step").equals("calibrate")) {
      postUntilNow(writer);
      delays.add(sameAt(writer, reader, node -> node.path("next_step").asText()));
      send(writer, "DELETE", all + "/" + at, "");
      assertThat(text(writer, "next_step")).isEqualTo("calibrate");
      delays.add(sameAt(writer, reader, node -> node.path("next_step").asText()));
      send(writer, "POST", all, "{\"at\":\"" + at + "\"}");
    }
    assertThat(delays).hasSizeGreaterThan(ROUNDS / 5);
    return delays;
  }

  private static Object bandLowC(JsonNode tracker) {
    return StreamSupport.stream(tracker.path("conditions").spliterator(), false)
        .filter(condition -> condition.path("name").asText().equals("operating_band"))
        .map(condition -> condition.path("limit_low").asDouble())
        .findFirst()
        .orElse(null);
  }

  /** How long it takes until both show the same. */
  private static Duration sameAt(Service writer, Service reader, Function<JsonNode, Object> what)
      throws Exception {
    long toldNs = System.nanoTime();
    Object wanted = what.apply(tracker(writer));
    Callable<Boolean> shown = () -> Objects.equals(what.apply(tracker(reader)), wanted);
    await().atMost(PATIENCE).pollInterval(Duration.ofMillis(5)).until(shown);
    return Duration.ofNanos(System.nanoTime() - toldNs);
  }

  /** How long it takes until the reader shows a verdict of this time or a later one. */
  private static Duration shownAt(Service reader, String asOf) {
    long toldNs = System.nanoTime();
    await()
        .atMost(PATIENCE)
        .pollInterval(Duration.ofMillis(5))
        .until(() -> text(reader, "as_of").compareTo(asOf) >= 0);
    return Duration.ofNanos(System.nanoTime() - toldNs);
  }

  private static Duration median(List<Duration> delays) {
    return delays.stream().sorted().toList().get(delays.size() / 2);
  }

  private static String words(List<Duration> delays) {
    return Arrays.asList(median(delays), delays.stream().max(Duration::compareTo).orElseThrow())
        .stream()
        .map(delay -> String.format(Locale.ROOT, "%d", delay.toMillis()))
        .collect(Collectors.joining(" "));
  }

  private void postUntilNow(Service to) throws Exception {
    long sinceUs = System.currentTimeMillis() * 1000 - startUs;
    int until = (int) Math.min(lines.size(), sinceUs / 500_000);
    String body = String.join("\n", lines.subList(posted, until)) + "\n";
    posted = until;
    HttpResponse<String> answer =
        Serving.send(
            HttpRequest.newBuilder(to.url().resolve("api/samples"))
                .header("Content-Type", "application/x-ndjson")
                .POST(BodyPublishers.ofString(body))
                .build());
    assertThat(Serving.json(answer).path("rejected").asInt(-1)).as(answer.body()).isZero();
  }

  private static JsonNode send(Service to, String method, String path, String body)
      throws Exception {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(to.url().resolve(path))
            .method(method, BodyPublishers.ofString(body));
    if (!body.isEmpty()) {
      request.header("Content-Type", "application/json");
    }
    HttpResponse<String> answer = Serving.send(request.build());
    assertThat(answer.statusCode()).as(path + " " + answer.body()).isLessThan(300);
    return Serving.json(answer);
  }

  private static JsonNode tracker(Service at) throws Exception {
    return Serving.json(Serving.get(at.url().resolve("api/readiness"))).at("/trackers/0");
  }

  private static String text(Service at, String field) throws Exception {
    return tracker(at).path(field).asText();
  }
}
