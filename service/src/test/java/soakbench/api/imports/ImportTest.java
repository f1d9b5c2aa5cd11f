package soakbench.api.imports;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.http.HttpRequest.BodyPublishers;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Service;
import soakbench.api.http.Times;
import soakbench.api.soaks.SoakTest;
import soakbench.live.figures.FigureDeriver;

/** Recordings brought in and taken out again, over a real database. */
@ExtendWith(Service.Running.class)
class ImportTest {
  private static final long DAY_US = 86_400_000_000L;
  private static final String WHY = "{\"reason\":\"the folder of another lot\"}";

  private static long begin(Service service) {
    JsonNode import1 =
        Http.json(service.http.send("POST", "/api/imports?sender=a+test", null, ""), "Import");
    assertThat(import1.get("stage").asText()).isEqualTo("in");
    return import1.get("import").asLong();
  }

  private static JsonNode send(Service service, long id, String query, byte[] file) {
    String path = "/api/imports/" + id + "/recordings?" + query;
    return Http.json(
        service.http.send(
            service.http.request(path).POST(BodyPublishers.ofByteArray(file)).build()),
        "ImportedFile");
  }

  private static JsonNode send(Service service, long id, String query, String file) {
    return send(service, id, query, file.getBytes(StandardCharsets.UTF_8));
  }

  private static JsonNode undo(Service service, long id) {
    String path = "/api/imports/" + id + "/undo";
    return Http.json(service.http.send("POST", path, "application/json", WHY), "Import");
  }

  private static byte[] gzip(String text) {
    ByteArrayOutputStream bytes = new ByteArrayOutputStream();
    try (GZIPOutputStream gzip = new GZIPOutputStream(bytes)) {
      gzip.write(text.getBytes(StandardCharsets.UTF_8));
    } catch (IOException e) {
      throw new AssertionError(e);
    }
    return bytes.toByteArray();
  }

  private static JsonNode figures(Service service, String tracker) {
    FigureDeriver deriver = new FigureDeriver(service.database.figures());
    while (deriver.deriveOutdated() > 0) {
      continue;
    }
    return service.http.json("/api/trackers/" + tracker + "/figures", "TrackerFigures");
  }

  @Test
  void afterAnUndoTheFiguresAreWhatTheyWereAndWhatWasThereStays(Service service) {
    String id = "IM-figures";
    long fromUs = Service.START_US - 40 * DAY_US;
    SoakTest.send(service, Lines.warmUp(id, fromUs, 900, 1));
    SoakTest.send(service, Lines.warmUp(id, fromUs + DAY_US, 1000, 1));
    SoakTest.send(service, Lines.warmUp(id, fromUs + 10 * DAY_US, 20, 1));
    JsonNode before = figures(service, id);
    JsonNode soaks = service.http.json("/api/soaks?tracker=" + id, "SoakList");

    long bad = begin(service);
    // A soak of its own, one that goes on where one ended, and one that was there already.
    send(service, bad, "file=new.jsonl", Lines.warmUp(id, fromUs + 2 * DAY_US, 600, 1));
    send(service, bad, "file=on.jsonl.gz", gzip(Lines.steady(id, fromUs + 1_000_000_000L, 1000)));
    JsonNode there =
        send(service, bad, "file=there.jsonl", Lines.warmUp(id, fromUs + DAY_US, 1000, 1));
    assertThat(there.get("accepted").asInt()).isZero();
    assertThat(there.get("duplicate").asInt()).isEqualTo(1000);
    service.watch.settle();
    assertThat(figures(service, id)).isNotEqualTo(before);

    JsonNode undone = undo(service, bad);
    assertThat(undone.get("stage").asText()).isEqualTo("undone");
    assertThat(undone.get("taken_out").asInt()).isEqualTo(600 + 1000);
    assertThat(undone.get("reason").asText()).isEqualTo("the folder of another lot");
    assertThat(service.http.json("/api/soaks?tracker=" + id, "SoakList")).isEqualTo(soaks);
    assertThat(figures(service, id)).isEqualTo(before);

    JsonNode listed = service.http.json("/api/imports/" + bad, "Import");
    assertThat(listed).isEqualTo(undone);
    assertThat(service.http.json("/api/imports/" + bad + "/files", "ImportFileList").get("files"))
        .hasSize(3);
    assertThat(Http.csv(service.http.get("/api/imports.csv"))).contains(",undone,3,3,0,1600,1000,");
    assertThat(Http.csv(service.http.get("/api/imports.csv?since=2100-01-01T00:00:00Z")).lines())
        .as("none was begun since")
        .hasSize(1);
    Http.problem(
        service.http.send(
            "POST", "/api/imports/" + bad + "/recordings?file=x", "application/octet-stream", "x"),
        409,
        "import-undone");
  }

  @Test
  void everyFormThatReplayReadsIsTakenAndWhatCannotBeUsedSaysWhy(Service service) {
    long id = begin(service);
    String csv =
        "arrival,temp_c,gx_dps,gy_dps,gz_dps\n2026-01-05T08:00:00Z,24.5,0.1,0.2,0.3\n"
            + "2026-01-05T08:00:00.1Z,24.5,0.1,0.2,0.3\nrst:0x1 boot\n"
            + "2026-01-05T08:00:00.2Z,24.5,0.1,0.2,0.3\n";
    JsonNode arrived = send(service, id, "file=a.csv&tracker=IM-csv&lot=Barley-2", csv);
    assertThat(arrived.get("accepted").asInt()).as(arrived.toString()).isEqualTo(3);
    assertThat(arrived.get("rejected").asInt()).isEqualTo(1);
    assertThat(arrived.get("unused").asText()).contains("1 of 5 lines not used", "rst:0x1");
    assertThat(arrived.get("problem").isNull()).isTrue();
    assertThat(arrived.get("trackers").get(0).asText()).isEqualTo("IM-csv");
    assertThat(service.http.json("/api/trackers/IM-csv", "Tracker").get("lot").asText())
        .isEqualTo("Barley-2");

    String undated = csv.replaceAll("2026-01-05T08:00:00(\\.\\d)?Z", "").replace("arrival", "seq");
    String counted = "{\"id\":\"IM-t\",\"t_ms\":%d,\"temp_c\":24.5,\"gyro_dps\":[0,0,0]}\n";
    String byBoot = counted.formatted(5000) + counted.formatted(5100) + counted.formatted(5200);
    assertThat(problem(service, id, "file=t.jsonl", byBoot)).contains("time", "arrival");
    assertThat(problem(service, id, "file=u.csv&tracker=IM-u", undated)).contains("no sample");
    assertThat(problem(service, id, "file=e.jsonl", "")).contains("it is empty");
    String other = Lines.steady("IM-other", Service.START_US - DAY_US, 50);
    assertThat(problem(service, id, "file=o.jsonl&tracker=IM-mine", other))
        .contains("of tracker IM-other, not of IM-mine");
    byte[] half = gzip(Lines.steady("IM-half", Service.START_US - DAY_US, 5000));
    JsonNode cut = send(service, id, "file=half.gz", Arrays.copyOf(half, half.length / 2));
    assertThat(cut.get("problem").asText()).contains("half.gz is damaged");
    assertThat(cut.get("accepted").asInt()).isPositive();

    JsonNode all = service.http.json("/api/imports/" + id, "Import");
    assertThat(all.get("files_all").asInt()).isEqualTo(6);
    assertThat(all.get("files_failed").asInt()).isEqualTo(5);
    undo(service, id);
    Http.problem(service.http.get("/api/trackers/IM-csv"), 404, "unknown-tracker");
  }

  private static String problem(Service service, long id, String query, String file) {
    JsonNode answer = send(service, id, query, file);
    assertThat(answer.get("accepted").asInt()).as(answer.toString()).isZero();
    return answer.get("problem").asText();
  }

  @Test
  void aHotRecordingOfNowRaisesNoAlarmAndIsNotShownAsLive(Service service) {
    StringBuilder hot = new StringBuilder();
    for (int i = 0; i < 600; i++) {
      hot.append(Lines.json("IM-hot", Service.START_US - 60_000_000L + i * 100_000L, 71, 0.3));
    }
    long id = begin(service);
    send(service, id, "file=hot.jsonl", hot.toString());
    String path = "/api/imports/" + id + "/samples?file=again.jsonl";
    Http.json(service.http.send("POST", path, "application/x-ndjson", hot.toString()), "Upload");
    assertThat(service.http.get("/api/alarms").body()).doesNotContain("IM-hot");
    assertThat(service.http.get("/api/readiness").body()).doesNotContain("IM-hot");
    // The same lines of a tracker that posts them do.
    SoakTest.send(service, hot.toString().replace("IM-hot", "IM-live"));
    assertThat(service.http.get("/api/readiness").body()).contains("IM-live");
    assertThat(service.http.get("/api/alarms").body()).contains("IM-live");
  }

  @Test
  void aTrackerRecordedUnderAWrongIdIsMergedAndListed(Service service) {
    long fromUs = Service.START_US - 50 * DAY_US;
    SoakTest.send(service, Lines.warmUp("IM-wrong", fromUs, 1200, 2));
    SoakTest.send(service, Lines.warmUp("IM-right", fromUs + DAY_US, 600, 2));
    service.http.send("PUT", "/api/trackers/IM-wrong", "application/json", "{\"lot\":\"M\"}");
    String soak = SoakTest.soakOf(service, "IM-wrong");
    String out = "{\"reason\":\"it slipped\"}";
    service.http.send("POST", "/api/soaks/" + soak + "/leave-out", "application/json", out);
    String path = "/api/trackers/IM-wrong/merge";
    String body = "{\"into\":\"%s\",\"reason\":\"a misread label\"}";
    for (String into : new String[] {"IM-wrong", "no id!", ""}) {
      var refused = service.http.send("POST", path, "application/json", body.formatted(into));
      assertThat(Http.problem(refused, 422, "invalid-content").get("problems")).isNotEmpty();
    }
    JsonNode merged =
        Http.json(
            service.http.send("POST", path, "application/json", body.formatted("IM-right")),
            "Merge");
    assertThat(merged.get("samples").asInt()).isEqualTo(2400);
    assertThat(merged.get("complete").asBoolean()).isTrue();
    JsonNode soaks = service.http.json("/api/soaks?tracker=IM-right", "SoakList").get("soaks");
    assertThat(soaks).hasSize(2);
    assertThat(soaks.get(1).get("start").asText()).isEqualTo(Times.text(fromUs));
    assertThat(soaks.get(1).get("left_out").asText()).isEqualTo("it slipped");
    assertThat(soaks.get(1).get("lot").asText()).isEqualTo("M");
    assertThat(service.http.json("/api/soaks?tracker=IM-wrong", "SoakList").get("soaks")).isEmpty();
    String bins = "/api/soaks/" + soaks.get(1).get("soak").asText() + "/bins";
    assertThat(service.http.json(bins, "BinList").get("bins")).hasSize(1200);
    JsonNode list = service.http.json("/api/merges", "MergeList").get("merges");
    assertThat(list.get(0)).isEqualTo(merged);
    Http.problem(
        service.http.send("POST", path, "application/json", body.formatted("IM-right")),
        404,
        "unknown-tracker");
  }
}
