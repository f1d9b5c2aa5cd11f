package soakbench.api.soaks;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalDouble;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;

/** Bins put together for a chart. */
@ExtendWith(Service.Running.class)
class BinSpansTest {
  private static final String ID = "Span-1";
  private static final int SECONDS = 1500;
  private static final List<String> CHANNELS = List.of("temperature_c", "gyro_dps", "accel_g");

  private static String bins;

  @BeforeAll
  static void record(Service service) {
    SoakTest.send(service, Lines.warmUp(ID, Service.START_US, SECONDS, 2));
    bins = "/api/soaks/" + SoakTest.soakOf(service, ID) + "/bins";
  }

  private static JsonNode ask(Service service, String query) {
    return service.http.json(bins + query, "BinList").get("bins");
  }

  @Test
  void thereAreNoMoreRowsThanAskedAndTheyCoverEverySecondOnce(Service service) {
    int whole = ask(service, "").size();
    for (int points : new int[] {2, 7, 100, 750, 10_000}) {
      JsonNode spans = ask(service, "?points=" + points);
      assertThat(spans.size())
          .isLessThanOrEqualTo(points)
          .isGreaterThan(Math.min(points, whole) / 2);
      int seconds = 0;
      String until = "";
      for (JsonNode span : spans) {
        seconds += span.get("seconds").asInt();
        assertThat(span.get("time").asText()).isGreaterThanOrEqualTo(until);
        until = span.get("until").asText();
      }
      assertThat(seconds).isEqualTo(whole);
    }
  }

  @Test
  void theLeastAndGreatestSecondOfEachChannelIsKeptToTheDigitsThatAreSaid(Service service) {
    JsonNode whole = ask(service, "");
    JsonNode spans = ask(service, "?points=9");
    int at = 0;
    for (JsonNode span : spans) {
      int n = span.get("seconds").asInt();
      for (String channel : CHANNELS) {
        int axes = channel.equals("temperature_c") ? 1 : 3;
        for (int axis = 0; axis < axes; axis++) {
          double[] means = new double[n];
          for (int i = 0; i < n; i++) {
            means[i] = part(whole.get(at + i).get(channel), axis).get("mean").asDouble();
          }
          int digits = channel.equals("temperature_c") ? 4 : 5;
          JsonNode extent = part(span.get(channel), axis);
          assertThat(extent.get("low").asDouble())
              .isEqualTo(rounded(Arrays.stream(means).min(), digits));
          assertThat(extent.get("high").asDouble())
              .isEqualTo(rounded(Arrays.stream(means).max(), digits));
          assertThat(extent.get("mean").asDouble())
              .isCloseTo(
                  Arrays.stream(means).average().orElseThrow(),
                  within(0.51 * Math.pow(10, -digits)));
          assertThat(extent.get("mean").asText()).hasSizeLessThan(13);
        }
      }
      at += n;
    }
    assertThat(at).isEqualTo(whole.size());
  }

  private static double rounded(OptionalDouble value, int digits) {
    return BigDecimal.valueOf(value.orElseThrow())
        .setScale(digits, RoundingMode.HALF_EVEN)
        .doubleValue();
  }

  private static JsonNode part(JsonNode channel, int axis) {
    return channel.isArray() ? channel.get(axis) : channel;
  }

  @Test
  void aStretchIsThinnedByItself(Service service) {
    String stretch = "?from=2026-03-01T08:05:00Z&to=2026-03-01T08:10:00Z&points=";
    assertThat(ask(service, stretch + 1000)).hasSize(300);
    JsonNode thin = ask(service, stretch + 100);
    assertThat(thin).hasSize(100);
    assertThat(thin.get(0).get("time").asText()).isEqualTo("2026-03-01T08:05:00Z");
    assertThat(thin.get(99).get("until").asText()).isEqualTo("2026-03-01T08:10:00Z");
    assertThat(ask(service, "?from=2030-01-01T00:00:00Z&points=10")).isEmpty();
  }

  @Test
  void theTableHasTheSameRows(Service service) {
    String[] rows = Http.csv(service.http.get(bins + ".csv?points=50")).split("\r\n");
    assertThat(rows).hasSize(51);
    assertThat(rows[0])
        .startsWith(
            "time,until,seconds,boot,temperature_low_c,temperature_c,temperature_high_c,gx_low");
  }

  @Test
  void whatCannotBeThinnedSoIsSaid(Service service) {
    for (String bad : List.of("0", "1", "10001", "many", "-5", "2.5")) {
      JsonNode problem =
          Http.problem(service.http.get(bins + "?points=" + bad), 400, "invalid-request");
      assertThat(problem.get("detail").asText())
          .contains("points=" + bad, "a whole number from 2 to 10000");
    }
    JsonNode swapped =
        Http.problem(
            service.http.get(bins + "?from=2026-03-01T09:00:00Z&to=2026-03-01T08:00:00Z"),
            400,
            "invalid-request");
    assertThat(swapped.get("detail").asText()).contains("is later than", "swap them");
  }

  /** Run by {@code mvn -B test -Pbench -Dtest=BinSpansTest}. */
  @Tag("bench")
  @Test
  void tenHoursAreThinnedInUnderFiftyMilliseconds(Service service) {
    String id = "Span-long";
    SoakTest.send(service, Lines.warmUp(id, Service.START_US, 36_000, 1));
    String path = "/api/soaks/" + SoakTest.soakOf(service, id) + "/bins?points=2000";
    double[] ms = new double[21];
    for (int i = 0; i < ms.length; i++) {
      long startNs = System.nanoTime();
      assertThat(service.http.get(path).body().length()).isGreaterThan(100_000);
      ms[i] = (System.nanoTime() - startNs) / 1e6;
    }
    Arrays.sort(ms);
    System.out.printf("36,000 bins to 2,000 rows: median %.1f ms, best %.1f ms%n", ms[10], ms[0]);
    // The best: another program may have held up any of them.
    assertThat(ms[0]).isLessThan(50);
  }
}
