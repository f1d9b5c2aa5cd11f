package soakbench.api.limits;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.OwnService;
import soakbench.api.Service;
import soakbench.api.http.Times;
import soakbench.cli.commands.Replay;
import soakbench.model.Limits;
import soakbench.model.LimitsDraft;

/** Which limits a soak is judged by, over a real database, restarts and changes of the limits. */
class SoakLimitsTest {
  private static final String ID = "L-1";

  /** Ready by the defaults after some 1,060 s. */
  private static final int SECONDS = 1200;

  private static final int LINES_PER_S = 5;
  private static final String LINES = Lines.warmUp(ID, Service.START_US, SECONDS, LINES_PER_S);

  /** Ready much earlier than by the defaults, and to be told apart early in the soak. */
  private static final String EASY =
      "{\"band_low_c\":25,\"use_temperature_c\":30,\"shift_limit_dps\":0.05,"
          + "\"temperature_rate_limit_c_per_min\":2}";

  private static List<String> byDefault;
  private static List<String> byEasy;

  @TempDir private static Path folder;

  private static Limits easy() {
    LimitsDraft draft = new LimitsDraft(Limits.DEFAULT);
    draft.set("band_low_c", 25);
    draft.set("use_temperature_c", 30);
    draft.set("shift_limit_dps", 0.05);
    draft.set("temperature_rate_limit_c_per_min", 2);
    return draft.limits();
  }

  @BeforeAll
  static void judgeOffline() throws IOException {
    Path lines = Files.writeString(folder.resolve("lines.jsonl"), LINES);
    byDefault = offline(lines, Limits.DEFAULT);
    byEasy = offline(lines, easy());
    assertThat(byDefault.toString()).contains("ready");
    assertThat(byEasy.toString()).contains("ready");
    assertThat(byEasy).isNotEqualTo(byDefault);
  }

  private static List<String> offline(Path lines, Limits limits) throws IOException {
    return Replay.of(lines, limits).trackers().get(0).soaks().get(0).timeline().stream()
        .map(c -> Times.text(c.timeUs()) + " " + c.state().word())
        .toList();
  }

  private static void send(OwnService service, String lines) {
    Http.json(service.http.send("POST", "/api/samples", "application/x-ndjson", lines), "Upload");
  }

  private static String soak(OwnService service) {
    return service.http.json("/api/soaks", "SoakList").at("/soaks/0/soak").asText();
  }

  private static List<String> timeline(OwnService service, boolean onlyRevised) {
    JsonNode told = service.http.json("/api/soaks/" + soak(service) + "/timeline", "Timeline");
    List<String> entries = new ArrayList<>();
    told.get("timeline")
        .forEach(
            e -> {
              if (!onlyRevised || e.get("revised").asBoolean()) {
                entries.add(e.get("time").asText() + " " + e.get("state").asText());
              }
            });
    return entries;
  }

  private static JsonNode own(OwnService service) {
    return service.http.json("/api/soaks/" + soak(service) + "/limits", "SoakTerms").get("limits");
  }

  /** Within the second, so that what is sent next goes on in it. */
  private static int lineAt(int second) {
    int at = -1;
    for (int i = 0; i < second * LINES_PER_S + 2; i++) {
      at = LINES.indexOf('\n', at + 1);
    }
    return at + 1;
  }

  @Test
  void aRestartWithAnotherLimitsFileInMidSoakMixesNoTimeline() {
    try (OwnService service = new OwnService(null)) {
      send(service, LINES.substring(0, lineAt(400)));
      service.restart(easy());
      assertThat(service.http.json("/api/limits", "LimitsInForce").get("origin").asText())
          .isEqualTo("file");
      send(service, LINES.substring(lineAt(400), lineAt(900)));
      service.restart(null);
      send(service, LINES.substring(lineAt(900)));
      assertThat(timeline(service, false)).isEqualTo(byDefault);
      assertThat(timeline(service, true)).isEmpty();
      assertThat(own(service)).isEqualTo(Http.tree(Limits.DEFAULT));
      // The verdict now is by the soak's own limits too.
      JsonNode verdict = service.http.json("/api/trackers/" + ID + "/readiness", "Readiness");
      assertThat(verdict.get("conditions").toString()).contains("\"limit_low\":28.0");
      JsonNode heading = service.http.json("/api/soaks/" + soak(service) + "/heading", "Heading");
      assertThat(heading.get("use_c").asDouble()).isEqualTo(31);
    }
  }

  @Test
  void lateSamplesAfterARestartWithOtherLimitsAreJudgedByTheSoaksOwn() {
    try (OwnService service = new OwnService(null)) {
      send(service, LINES.substring(0, lineAt(600)) + LINES.substring(lineAt(605)));
      service.restart(easy());
      send(service, LINES.substring(lineAt(600), lineAt(605)));
      service.nowUs.addAndGet(6_000_000);
      service.watch.tick();
      assertThat(timeline(service, false)).isEqualTo(byDefault);
    }
  }

  @Test
  void putLimitsHoldForSoaksThatBeginAfter() {
    try (OwnService service = new OwnService(null)) {
      send(service, LINES.substring(0, lineAt(400)));
      JsonNode done =
          Http.json(
              service.http.send("PUT", "/api/limits", "application/json", EASY), "LimitsChanged");
      assertThat(done.get("judged_again")).isEmpty();
      send(service, LINES.substring(lineAt(400)));
      assertThat(timeline(service, false)).isEqualTo(byDefault);
      service.http.send("POST", "/api/soaks/" + soak(service) + "/end", null, "");
      send(service, Lines.warmUp(ID, Service.START_US + 7_200_000_000L, 60));
      assertThat(own(service)).isEqualTo(Http.tree(easy()));
    }
  }

  @Test
  void putNowTheyJudgeTheSoaksUnderWayAgainAndTheTimelineSaysRevised() {
    try (OwnService service = new OwnService(null)) {
      send(service, LINES.substring(0, lineAt(900)));
      List<String> said = timeline(service, false);
      JsonNode would =
          Http.json(
              service.http.send(
                  "PUT", "/api/limits?now=true&dry_run=true", "application/json", EASY),
              "LimitsChanged");
      assertThat(would.get("judged_again")).hasSize(1);
      assertThat(timeline(service, false)).isEqualTo(said);

      JsonNode done =
          Http.json(
              service.http.send("PUT", "/api/limits?now=true", "application/json", EASY),
              "LimitsChanged");
      assertThat(done.get("judged_again").get(0).asText()).isEqualTo(soak(service));
      assertThat(own(service)).isEqualTo(Http.tree(easy()));
      List<String> now = timeline(service, false);
      List<String> revised = timeline(service, true);
      assertThat(now).isNotEqualTo(said).isEqualTo(byEasy.subList(0, now.size()));
      assertThat(revised)
          .isNotEmpty()
          .containsAll(now.stream().filter(e -> !said.contains(e)).toList());
      JsonNode verdict = service.http.json("/api/trackers/" + ID + "/readiness", "Readiness");
      assertThat(verdict.get("conditions").toString()).contains("\"limit_low\":25.0");

      service.restart(null);
      send(service, LINES.substring(lineAt(900)));
      assertThat(timeline(service, false)).isEqualTo(byEasy);
      assertThat(timeline(service, true)).isEqualTo(revised);
    }
  }
}
