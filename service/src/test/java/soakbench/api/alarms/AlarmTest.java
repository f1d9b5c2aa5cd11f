package soakbench.api.alarms;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.util.Locale;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Schemas;
import soakbench.api.Service;
import soakbench.api.events.EventListener;
import soakbench.api.http.Times;
import soakbench.api.soaks.SoakTest;

/** Alarms over HTTP, raised by samples of trackers that heat. */
@ExtendWith(Service.Running.class)
public class AlarmTest {

  /** Ten lines a second, from one temperature to another in a straight line. */
  public static String heating(String id, long startUs, double seconds, double fromC, double toC) {
    StringBuilder lines = new StringBuilder();
    int count = (int) Math.round(10 * seconds);
    for (int i = 0; i < count; i++) {
      lines.append(
          String.format(
              Locale.ROOT,
              "{\"id\":\"%s\",\"time\":\"%s\",\"temp_c\":%.3f,\"gyro_dps\":[0.31,-0.12,%.3f]}%n",
              id,
              Times.text(startUs + i * 100_000L),
              fromC + (toC - fromC) * i / count,
              0.05 + 0.01 * (i % 3)));
    }
    return lines.toString();
  }

  private static JsonNode find(Service service, String path, String kind, String tracker) {
    for (JsonNode alarm : service.http.json(path, "AlarmList").get("alarms")) {
      if (alarm.get("kind").asText().equals(kind)
          && alarm.get("tracker").asText().equals(tracker)) {
        return alarm;
      }
    }
    return null;
  }

  @Test
  void aTrackerOverTheLimitRaisesHotAndOneThatHeatsTooFastRaisesFastRise(Service service)
      throws IOException {
    try (EventListener listener = new EventListener(service.http.base(), 0).reading()) {
      SoakTest.send(service, heating("Al-hot", Service.START_US, 60, 46, 46.1));
      // 6 degC/min for five minutes, far below the limit of 45.
      SoakTest.send(service, heating("Al-fast", Service.START_US, 200, 10, 30));
      SoakTest.send(service, heating("Al-calm", Service.START_US, 200, 25, 26));

      JsonNode hot = find(service, "/api/alarms?open=true", "hot", "Al-hot");
      assertThat(hot.get("severity").asText()).isEqualTo("severe");
      assertThat(hot.get("value").asDouble()).isBetween(45.9, 46.2);
      assertThat(hot.get("limit").asDouble()).isEqualTo(45);
      assertThat(hot.get("unit").asText()).isEqualTo("degC");
      assertThat(hot.get("until").isNull()).isTrue();
      assertThat(hot.get("advice").asText()).contains("Uncover it now", "cell maker");
      assertThat(find(service, "/api/alarms", "fast_rise", "Al-hot")).isNull();

      JsonNode fast = find(service, "/api/alarms", "fast_rise", "Al-fast");
      assertThat(fast.get("unit").asText()).isEqualTo("degC/min");
      assertThat(fast.get("value").asDouble()).isBetween(5.0, 7.0);
      assertThat(fast.get("limit").asDouble()).isEqualTo(5);
      assertThat(find(service, "/api/alarms", "hot", "Al-fast")).isNull();
      assertThat(find(service, "/api/alarms", "fast_rise", "Al-calm")).isNull();

      await().until(() -> listener.data("alarms").stream().anyMatch(d -> d.contains("Al-fast")));
      listener.data("alarms").forEach(data -> Schemas.valid(data, "AlarmEvent"));
      assertThat(Http.csv(service.http.get("/api/alarms.csv")))
          .startsWith("id,kind,severity,tracker,name,slot,rack,since,until,value,limit,unit,")
          .contains(",hot,severe,Al-hot,");
    }
  }

  @Test
  void anAlarmIsAcknowledgedOnceAndAgainWithoutHarm(Service service) throws IOException {
    SoakTest.send(service, heating("Al-seen", Service.START_US, 60, 46, 46.1));
    String id = find(service, "/api/alarms", "hot", "Al-seen").get("id").asText();
    String path = "/api/alarms/" + id + "/acknowledgement";
    JsonNode seen =
        Http.json(service.http.send("POST", path, "application/json", "{\"by\":\"Ada\"}"), "Alarm");
    assertThat(seen.get("acknowledged_by").asText()).isEqualTo("Ada");
    JsonNode again = Http.json(service.http.send("POST", path, null, ""), "Alarm");
    assertThat(again).isEqualTo(seen);
    assertThat(find(service, "/api/alarms?open=true", "hot", "Al-seen")).isEqualTo(seen);
  }

  @Test
  void thoseThatHoldAndThoseThatEndedAreAskedForApart(Service service) throws IOException {
    SoakTest.send(service, heating("Al-state", Service.START_US, 60, 46, 46.1));
    assertThat(find(service, "/api/alarms?state=open", "hot", "Al-state")).isNotNull();
    assertThat(find(service, "/api/alarms?state=ended", "hot", "Al-state")).isNull();
    JsonNode problem =
        Http.problem(service.http.get("/api/alarms?state=over"), 400, "invalid-request");
    assertThat(problem.toString()).contains("state=over must be open or ended");
  }

  @Test
  void anUnknownAlarmAndABadNameAreRefusedWithTheReason(Service service) throws IOException {
    String none = "/api/alarms/hot:Nobody@20260301T080000000Z/acknowledgement";
    Http.problem(service.http.send("POST", none, null, ""), 404, "unknown-alarm");
    SoakTest.send(service, heating("Al-name", Service.START_US, 60, 46, 46.1));
    String id = find(service, "/api/alarms", "hot", "Al-name").get("id").asText();
    String path = "/api/alarms/" + id + "/acknowledgement";
    for (String body : new String[] {"{\"by\":\"\"}", "{\"by\":7}", "{\"by\":\"a\\nb\"}"}) {
      Http.problem(
          service.http.send("POST", path, "application/json", body), 422, "invalid-content");
    }
    Http.problem(service.http.send("POST", path, "application/json", "[1"), 400, "invalid-request");
    assertThat(find(service, "/api/alarms", "hot", "Al-name").get("acknowledged").isNull())
        .isTrue();
  }
}
