package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.stream.Stream;
import java.util.stream.StreamSupport;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import soakbench.api.ApiSettings;
import soakbench.cli.Asked;
import soakbench.store.SharedServer;

/** A whole service: what is posted second by second is watched, whatever its stamps say. */
@Timeout(300)
class ArrivalsOverHttpTest {
  private static final HttpClient HTTP = HttpClient.newHttpClient();
  private static final Duration DECADES = Duration.ofDays(9_500);
  private static final Duration OFTEN = Duration.ofMillis(300);
  private static final Duration SOON = Duration.ofSeconds(5);
  private static final Duration PATIENCE = Duration.ofSeconds(60);

  private URI url;

  @Test
  void heatIsShownWithinFiveSecondsAndARecordingRaisesNothing() throws Exception {
    try (Service service =
        Service.start(SharedServer.empty(), ApiSettings.local(0), null, new MonotonicClock())) {
      url = service.url();
      post(recording());
      await().atMost(PATIENCE).pollInterval(OFTEN).until(() -> coolAndShown());
      long hotFromNs = System.nanoTime();
      await().atMost(PATIENCE).pollInterval(OFTEN).until(() -> hotAndAlarmed());
      assertThat(Duration.ofNanos(System.nanoTime() - hotFromNs)).isLessThan(SOON);
      assertThat(shown("ahead").orElseThrow().get("temperature_c").asDouble()).isEqualTo(70);
      assertThat(shown("past")).isEmpty();
      assertThat(new Asked(url).json("api/alarms").toString()).doesNotContain("past");
    }
  }

  private boolean coolAndShown() throws Exception {
    post(line("ahead", Instant.now().plusSeconds(50), 30));
    post(line("behind", Instant.now().minus(DECADES), 30));
    return Stream.of("ahead", "behind")
        .allMatch(t -> shown(t).filter(s -> s.path("temperature_c").asDouble() == 30).isPresent());
  }

  private boolean hotAndAlarmed() throws Exception {
    post(line("ahead", Instant.now(), 70));
    post(line("behind", Instant.now().minus(DECADES), 70));
    return Stream.of("ahead", "behind").allMatch(t -> isHot(t) && open("hot", t));
  }

  /** An hour at 70 degC, a day ago. */
  private static String recording() {
    StringBuilder lines = new StringBuilder();
    Instant start = Instant.now().minus(Duration.ofDays(1));
    for (int i = 0; i < 3_600; i++) {
      lines.append(line("past", start.plusSeconds(i), 70));
    }
    return lines.toString();
  }

  private static String line(String id, Instant time, double celsius) {
    return "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":%s,\"gyro_dps\":[0.1,0.2,0.3]}\n"
        .formatted(id, time, celsius);
  }

  private void post(String lines) throws Exception {
    HttpRequest request =
        HttpRequest.newBuilder(url.resolve("api/samples"))
            .header("Content-Type", "application/x-ndjson")
            .POST(HttpRequest.BodyPublishers.ofString(lines))
            .build();
    assertThat(HTTP.send(request, HttpResponse.BodyHandlers.ofString()).statusCode())
        .isEqualTo(200);
  }

  private Optional<JsonNode> shown(String tracker) {
    return all("api/readiness", "trackers")
        .filter(t -> t.get("tracker").asText().equals(tracker))
        .findFirst();
  }

  private boolean isHot(String tracker) {
    return shown(tracker).filter(t -> t.get("state").asText().equals("hot")).isPresent();
  }

  private boolean open(String kind, String tracker) {
    return all("api/alarms", "alarms")
        .anyMatch(
            a ->
                a.get("kind").asText().equals(kind)
                    && a.get("tracker").asText().equals(tracker)
                    && a.get("until").isNull());
  }

  private Stream<JsonNode> all(String path, String list) {
    return StreamSupport.stream(new Asked(url).json(path).get(list).spliterator(), false);
  }
}
