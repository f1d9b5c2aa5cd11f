package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.stream.Collectors;
import soakbench.cli.commands.Replay;
import soakbench.model.Limits;
import soakbench.model.StateChange;

/**
 * What a reader of a service sees of one tracker at one moment, whose lines are of yesterday or
 * before.
 *
 * @param samples as CSV, without the header
 * @param asOf until when they are judged
 */
record Seen(List<String> samples, List<StateChangeSeen> timeline, Instant asOf) {
  private static final Duration PATIENCE = Duration.ofSeconds(60);
  private static final Instant TODAY = Instant.now().minus(Duration.ofDays(1));

  record StateChangeSeen(String soak, Instant time, String state, boolean revised) {}

  static Seen look(Asked asked, String tracker) {
    return look(asked, tracker, judgedUntil(asked, tracker));
  }

  private static Seen look(Asked asked, String tracker, Instant asOf) {
    List<StateChangeSeen> timeline = new ArrayList<>();
    List<String> samples = new ArrayList<>();
    List<String> soaks = new ArrayList<>();
    for (JsonNode soak : asked.json("/api/soaks?tracker=" + tracker).get("soaks")) {
      soaks.add(soak.get("soak").asText());
    }
    // The newest comes first. A start that takes half a minute is a gap that begins another.
    Collections.reverse(soaks);
    for (String id : soaks) {
      for (JsonNode c : asked.json("/api/soaks/" + id + "/timeline").get("timeline")) {
        timeline.add(
            new StateChangeSeen(
                id,
                Instant.parse(c.get("time").asText()),
                c.get("state").asText(),
                c.get("revised").asBoolean()));
      }
      asked.csv("/api/soaks/" + id + "/samples").lines().skip(1).forEach(samples::add);
    }
    return new Seen(samples, timeline, asOf);
  }

  /** By the lines' own clock: what is only heard, or silent for a while, is shown by today's. */
  private static Instant judgedUntil(Asked asked, String tracker) {
    return await()
        .atMost(PATIENCE)
        .until(
            () ->
                Instant.parse(
                    asked.json("/api/trackers/" + tracker + "/readiness").get("as_of").asText()),
            TODAY::isAfter);
  }

  /** Holds that all that was seen before is there still, once. */
  void survived(Seen before) {
    Seen after = this;
    assertThat(after.samples()).startsWith(before.samples().toArray(String[]::new));
    assertThat(after.samples()).doesNotHaveDuplicates();
    assertThat(after.timeline()).startsWith(before.timeline().toArray(StateChangeSeen[]::new));
    assertThat(after.asOf()).isAfterOrEqualTo(before.asOf());
  }

  /** The stored samples, judged offline, give what the service said after all its deaths. */
  static Seen agreesWithReplay(Asked asked, String tracker, Path folder) throws IOException {
    return agreesWithReplay(asked, tracker, folder, judgedUntil(asked, tracker));
  }

  /**
   * The same of lines that came over HTTP: with their times of the past they are a recording, which
   * has no current verdict. Its last seconds are not over, and so not judged.
   */
  static Seen recordingAgreesWithReplay(Asked asked, String tracker, Path folder)
      throws IOException {
    JsonNode newest = asked.json("/api/soaks?tracker=" + tracker).at("/soaks/0/end");
    return agreesWithReplay(asked, tracker, folder, Instant.parse(newest.asText()).minusSeconds(4));
  }

  private static Seen agreesWithReplay(Asked asked, String tracker, Path folder, Instant asOf)
      throws IOException {
    Seen now = look(asked, tracker, asOf);
    String header = asked.csv(firstSamples(asked, tracker)).lines().findFirst().orElseThrow();
    String csv =
        (header.startsWith("tracker") ? header.replaceFirst("tracker", "id") : header)
            + "\n"
            + now.samples().stream().collect(Collectors.joining("\n", "", "\n"));
    Path file = folder.resolve(tracker + ".csv");
    Files.writeString(file, csv, StandardCharsets.UTF_8);
    List<StateChangeSeen> replayed = new ArrayList<>();
    for (Replay.SoakReplay soak : Replay.of(file, Limits.DEFAULT).trackers().get(0).soaks()) {
      for (StateChange c : soak.timeline()) {
        Instant time = Instant.ofEpochSecond(0, c.timeUs() * 1000);
        replayed.add(
            new StateChangeSeen(soak.extent().soak(), time, c.state().word(), c.revised()));
      }
    }
    List<StateChangeSeen> told =
        replayed.stream().filter(c -> !c.time().isAfter(now.asOf())).toList();
    assertThat(now.timeline().stream().filter(c -> !c.time().isAfter(asOf)).toList())
        .isEqualTo(told);
    return now;
  }

  private static String firstSamples(Asked asked, String tracker) {
    JsonNode soaks = asked.json("/api/soaks?tracker=" + tracker).get("soaks");
    return "/api/soaks/" + soaks.get(0).get("soak").asText() + "/samples";
  }
}
