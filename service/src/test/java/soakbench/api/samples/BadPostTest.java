package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.soaks.SoakTest;

/** What a gateway is told that posts something wrong, and what becomes of the good part. */
@ExtendWith(Service.Running.class)
class BadPostTest {
  private static final long START_US = Service.START_US - 172_800_000_000L;

  private static JsonNode post(Service service, String lines) {
    return Http.json(
        service.http.send("POST", "/api/samples", "application/x-ndjson", lines), "Upload");
  }

  @Test
  void linesOutOfOrderBySecondsAreJudgedAsIfInOrder(Service service) {
    List<String> lines = new ArrayList<>(List.of(Lines.warmUp("BP-o", START_US, 900).split("\n")));
    assertThat(post(service, String.join("\n", lines) + "\n").get("accepted").asInt())
        .isEqualTo(9000);
    String inOrder = soak(service, "BP-o");
    List<String> other = new ArrayList<>();
    lines.forEach(line -> other.add(line.replace("BP-o", "BP-s")));
    // Within every four seconds in any order, and the posts cut through them.
    for (int i = 0; i < other.size(); i += 40) {
      Collections.shuffle(other.subList(i, i + 40), new Random(i));
    }
    for (int i = 0; i < other.size(); i += 1010) {
      List<String> part = other.subList(i, Math.min(other.size(), i + 1010));
      JsonNode answer = post(service, String.join("\n", part) + "\n");
      assertThat(answer.get("accepted").asInt()).as(answer.toString()).isEqualTo(part.size());
    }
    service.watch.tick();
    String shuffled = soak(service, "BP-s");
    for (String figure : new String[] {"/warm-up", "/bias-curve", "/noise"}) {
      assertThat(service.http.get("/api/soaks/" + shuffled + figure).body())
          .as(figure)
          .isEqualTo(service.http.get("/api/soaks/" + inOrder + figure).body());
    }
  }

  private static String soak(Service service, String tracker) {
    return SoakTest.soakOf(service, tracker);
  }

  @Test
  void numbersThatAreNoneAreToldByLineAndTheOthersKept(Service service) {
    String[] lines = Lines.steady("BP-n", START_US, 20).split("\n");
    lines[3] = lines[3].replace("24.50", "NaN");
    lines[5] = lines[5].replace("-0.12", "Infinity");
    lines[7] = lines[7].replace("24.50", "1e999");
    JsonNode answer = post(service, String.join("\n", lines) + "\n");
    assertThat(answer.get("accepted").asInt()).isEqualTo(17);
    List<String> told = new ArrayList<>();
    answer
        .get("problems")
        .forEach(p -> told.add(p.get("line").asInt() + ": " + p.get("reason").asText()));
    assertThat(told).hasSize(3);
    assertThat(told.get(0)).startsWith("4: temp_c is NaN degC, outside");
    assertThat(told.get(1)).startsWith("6: gy_dps is Infinity deg/s, outside");
    assertThat(told.get(2)).startsWith("8: ").contains("outside");
  }

  @Test
  void garbageIsAnsweredWithCountsAndNotWithAnError(Service service) {
    Random random = new Random(9);
    byte[] garbage = new byte[200_000];
    random.nextBytes(garbage);
    JsonNode answer = post(service, new String(garbage, StandardCharsets.ISO_8859_1));
    assertThat(answer.get("accepted").asInt()).isZero();
    assertThat(answer.get("rejected").asInt()).isPositive();
    assertThat(answer.get("problems").size()).isBetween(1, 100);
  }

  @Test
  void aTrackerThatChangesItsIdIsTwoTrackers(Service service) {
    String first = Lines.warmUp("BP-one", START_US, 60);
    String second = Lines.warmUp("BP-two", START_US + 60_000_000, 60);
    assertThat(post(service, first + second).get("accepted").asInt()).isEqualTo(1200);
    assertThat(soak(service, "BP-one")).startsWith("BP-one@");
    assertThat(soak(service, "BP-two")).startsWith("BP-two@");
  }

  @Test
  void whatTheRosterSaysOfTheRatesIsSaidOfTheVerdictAndTheFigures(Service service) {
    String id = "BP-follows";
    String path = "/api/trackers/" + id;
    service.http.send("PUT", path, "application/json", "{\"rates\":\"follows\"}");
    post(service, Lines.warmUp(id, Service.START_US, 1500));
    String reason =
        "corrected inside, as the roster says (though its rates don't show it): drift can't be"
            + " judged";
    JsonNode verdict = service.http.json(path + "/readiness", "Readiness");
    assertThat(verdict.get("state").asText()).isEqualTo("undecided");
    assertThat(verdict.get("advice").asText()).startsWith("can't say: " + reason);
    assertThat(verdict.at("/shift_dps/0/value").isNull()).isTrue();
    String soak = "/api/soaks/" + soak(service, id);
    assertThat(service.http.json(soak + "/noise", "Noise").get("reason").asText())
        .isEqualTo(reason);
    assertThat(service.http.json(soak + "/bias-curve", "BiasCurve").get("reason").asText())
        .isEqualTo(reason);

    service.http.send("PUT", path, "application/json", "{\"rates\":\"raw\"}");
    assertThat(service.http.json(soak + "/noise", "Noise").get("reason").isNull())
        .as("a change of the roster is believed at once")
        .isTrue();
  }
}
