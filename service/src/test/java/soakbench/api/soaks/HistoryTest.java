package soakbench.api.soaks;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Stream;
import org.assertj.core.data.Offset;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;

/** What a tracker read over all its soaks. */
@ExtendWith(Service.Running.class)
class HistoryTest {
  private static final String ID = "History-1";
  private static final String PATH = "/api/trackers/" + ID + "/history";
  private static final int SECONDS = 900;
  private static final long DAY_US = 86_400_000_000L;

  @BeforeAll
  static void record(Service service) {
    SoakTest.send(service, Lines.warmUp(ID, Service.START_US, SECONDS, 1));
    SoakTest.send(service, Lines.warmUp(ID, Service.START_US + DAY_US, SECONDS, 1));
  }

  private static JsonNode rows(Service service, String query) {
    return service.http.json(PATH + query, "History").get("bins");
  }

  private static int seconds(JsonNode rows) {
    return Stream.of(rows)
        .flatMap(r -> r.findValues("seconds").stream())
        .mapToInt(JsonNode::asInt)
        .sum();
  }

  @Test
  void rowsAreWholeMinutesThatHoldEverySecondOfAllSoaksOnce(Service service) {
    JsonNode minutes = rows(service, "?points=10000");
    assertThat(minutes.size()).isBetween(2 * SECONDS / 60, 2 * SECONDS / 60 + 4);
    assertThat(minutes.findValues("boot")).hasSize(minutes.size());
    JsonNode few = rows(service, "?points=5");
    assertThat(few.size()).isBetween(2, 5);
    assertThat(seconds(few)).isEqualTo(seconds(minutes)).isBetween(2 * SECONDS - 4, 2 * SECONDS);
  }

  /** Temperatures of a chart are rounded to 0.0001 degC. */
  private static final Offset<Double> HALF_A_STEP = within(0.51e-4);

  @Test
  void aMinuteIsWhatItsSecondsAre(Service service) {
    JsonNode minute = rows(service, "?points=10000").get(3);
    String stretch = "?from=" + minute.get("time").asText() + "&to=" + minute.get("until").asText();
    String soak =
        service
            .http
            .json("/api/soaks?tracker=" + ID, "SoakList")
            .get("soaks")
            .get(1)
            .get("soak")
            .asText();
    JsonNode bins =
        service.http.json("/api/soaks/" + soak + "/bins" + stretch, "BinList").get("bins");
    assertThat(minute.get("seconds").asInt()).isEqualTo(bins.size()).isEqualTo(60);
    double[] means =
        bins.findValues("temperature_c").stream()
            .mapToDouble(t -> t.get("mean").asDouble())
            .toArray();
    JsonNode told = minute.get("temperature_c");
    assertThat(told.get("mean").asDouble())
        .isCloseTo(Arrays.stream(means).average().orElseThrow(), HALF_A_STEP);
    assertThat(told.get("low").asDouble())
        .isCloseTo(Arrays.stream(means).min().orElseThrow(), HALF_A_STEP);
    assertThat(told.get("high").asDouble())
        .isCloseTo(Arrays.stream(means).max().orElseThrow(), HALF_A_STEP);
    assertThat(rows(service, stretch)).isEqualTo(Http.tree(List.of(minute)));
  }

  @Test
  void itComesAsATableToo(Service service) {
    List<String> lines = service.http.get(PATH + ".csv?points=3").body().lines().toList();
    assertThat(lines.get(0)).startsWith("time,until,seconds,boot,temperature_low_c,temperature_c");
    assertThat(lines).hasSizeBetween(3, 4);
  }

  @Test
  void aTrackerThatNeverHadASoakIsNotKnown(Service service) {
    JsonNode problem =
        Http.problem(service.http.get("/api/trackers/Nobody/history"), 404, "unknown-tracker");
    assertThat(problem.get("detail").asText()).contains("Nobody never had a soak");
  }
}
