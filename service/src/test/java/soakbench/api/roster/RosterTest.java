package soakbench.api.roster;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.net.http.HttpResponse;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Service;

@ExtendWith(Service.Running.class)
class RosterTest {
  private static final String CSV = "text/csv";

  private static HttpResponse<String> put(Service service, String query, String csv) {
    return service.http.send("PUT", "/api/trackers" + query, CSV, csv);
  }

  @Test
  void aTrackerIsAddedThenReplacedThenRead(Service service) {
    String path = "/api/trackers/R-single";
    String body = "{\"name\":\"Left foot\",\"lot\":\"B7\",\"power\":\"battery\"}";
    HttpResponse<String> added = service.http.send("PUT", path, "application/json", body);
    assertThat(added.statusCode()).isEqualTo(201);
    Http.json(added, "Tracker");
    HttpResponse<String> replaced =
        service.http.send("PUT", path, "application/json", "{\"temperature_offset_c\":-0.5}");
    assertThat(replaced.statusCode()).isEqualTo(200);
    JsonNode read = service.http.json(path, "Tracker");
    assertThat(read.get("name").asText()).isEqualTo("R-single");
    assertThat(read.get("temperature_offset_c").asDouble()).isEqualTo(-0.5);
  }

  private static HttpResponse<String> patch(Service service, String id, String json) {
    return service.http.send("PATCH", "/api/trackers/" + id, "application/json", json);
  }

  @Test
  void oneFieldIsChangedAndTheOthersStay(Service service) {
    put(service, "", "id,name,lot,note,temperature_offset_c\nR-patch,Left,B7,cracked lid,-0.5\n");
    JsonNode changed = Http.json(patch(service, "R-patch", "{\"lot\":\"B8\"}"), "Tracker");
    assertThat(changed.toString())
        .contains("\"name\":\"Left\"", "\"lot\":\"B8\"", "\"note\":\"cracked lid\"", ":-0.5");
    assertThat(service.http.json("/api/trackers/R-patch", "Tracker")).isEqualTo(changed);
    HttpResponse<String> merged =
        service.http.send(
            "PATCH",
            "/api/trackers/R-patch",
            "application/merge-patch+json",
            "{\"note\":null,\"temperature_offset_c\":null,\"name\":null}");
    JsonNode emptied = Http.json(merged, "Tracker");
    assertThat(emptied.toString())
        .as("null sets a field back")
        .contains("\"name\":\"R-patch\"", "\"note\":\"\"", "\"temperature_offset_c\":0.0")
        .contains("\"lot\":\"B8\"");
  }

  @Test
  void aChangeThatCanNotBeIsRefusedAndNothingOfItIsKept(Service service) {
    put(service, "", "id,lot\nR-kept,B7\n");
    JsonNode problem =
        Http.problem(
            patch(service, "R-kept", "{\"lot\":\"B9\",\"powr\":\"usb\",\"id\":\"R-2\"}"),
            422,
            "invalid-content");
    assertThat(problem.get("problems")).hasSize(2);
    assertThat(problem.toString()).contains("did you mean", "not the one in the address");
    assertThat(service.http.get("/api/trackers/R-kept").body()).contains("\"lot\":\"B7\"");
    Http.problem(patch(service, "R-nobody", "{\"lot\":\"B9\"}"), 404, "unknown-tracker");
    Http.problem(patch(service, "R-kept", "{\"lot\":\"..\"}"), 422, "invalid-content");
    Http.problem(patch(service, "R-kept", "[]"), 400, "invalid-request");
    Http.problem(
        service.http.send("PATCH", "/api/trackers/R-kept", "text/csv", "{}"),
        415,
        "unsupported-media-type");
  }

  @Test
  void thoseWhoChangeDifferentFieldsAtOnceAllHaveTheirs(Service service) {
    List<String> fields = List.of("lot", "imu", "board", "rack", "slot", "note");
    put(service, "", "id\nR-all\n");
    for (int round = 0; round < 10; round++) {
      String value = "round " + round;
      fields.parallelStream()
          .forEach(f -> patch(service, "R-all", "{\"%s\":\"%s\"}".formatted(f, value)));
      String entry = service.http.get("/api/trackers/R-all").body();
      assertThat(entry)
          .contains(fields.stream().map(f -> "\"%s\":\"%s\"".formatted(f, value)).toList());
    }
  }

  @Test
  void aRosterTellsWhatItChangedAndADryRunWhatItWould(Service service) {
    String csv = "id,name,lot\nR-1,One,B7\nR-2,Two,B8\n";
    JsonNode tried = Http.json(put(service, "?dry_run=true", csv), "RosterChanges");
    assertThat(ids(tried.get("added"))).containsExactly("R-1", "R-2");
    assertThat(tried.get("differences").toString())
        .as("of a new one, what is other than where nobody said anything")
        .contains("{\"tracker\":\"R-2\",\"field\":\"lot\",\"was\":\"\",\"is\":\"B8\"}");
    Http.problem(service.http.get("/api/trackers/R-1"), 404, "unknown-tracker");

    JsonNode done = Http.json(put(service, "", csv), "RosterChanges");
    assertThat(ids(done.get("added"))).containsExactly("R-1", "R-2");
    JsonNode again =
        Http.json(put(service, "", "id,name\r\nR-1,Uno\r\nR-2,Two\r\n"), "RosterChanges");
    assertThat(ids(again.get("changed"))).containsExactly("R-1");
    assertThat(again.get("differences").toString())
        .isEqualTo("[{\"tracker\":\"R-1\",\"field\":\"name\",\"was\":\"One\",\"is\":\"Uno\"}]");
    assertThat(ids(again.get("unchanged"))).containsExactly("R-2");
    assertThat(service.http.json("/api/trackers/R-1", "Tracker").get("lot").asText())
        .as("a column that is not there leaves what was there")
        .isEqualTo("B7");
  }

  @Test
  void allMistakesAreToldAtOnceAndNothingIsWritten(Service service) {
    String csv =
        "id,nmae,power,temperature_offset_c\n"
            + "R-ok,x,battery,0.5\n"
            + "R bad,x,battery,0\n"
            + "R-3,x,solar,warm\n"
            + "R-ok,x,usb,0,surplus\n";
    JsonNode problem = Http.problem(put(service, "", csv), 422, "invalid-content");
    List<String> told = new ArrayList<>();
    problem
        .get("problems")
        .forEach(p -> told.add(p.get("line").asText() + " " + p.get("field").asText()));
    assertThat(told)
        .containsExactlyInAnyOrder(
            "1 nmae", "3 id", "4 power", "4 temperature_offset_c", "5 id", "5 null");
    assertThat(problem.toString())
        .contains("did you mean \\\"name\\\"?")
        .contains("use battery, usb or unknown")
        .contains("from -20 to 20");
    Http.problem(service.http.get("/api/trackers/R-ok"), 404, "unknown-tracker");
  }

  @Test
  void anEmptyOrForeignFileIsRefusedWithWhatIsNeeded(Service service) {
    assertThat(Http.problem(put(service, "", ""), 422, "invalid-content").toString())
        .contains("a header line with at least the column id");
    assertThat(Http.problem(put(service, "", "id\n"), 422, "invalid-content").toString())
        .contains("lists no tracker");
    var latin = service.http.request("/api/trackers").header("Content-Type", CSV);
    byte[] body = "id,name\nR-4,B\u00fcro\n".getBytes(java.nio.charset.StandardCharsets.ISO_8859_1);
    var answer =
        service.http.send(
            latin.PUT(java.net.http.HttpRequest.BodyPublishers.ofByteArray(body)).build());
    assertThat(Http.problem(answer, 422, "invalid-content").get("detail").asText())
        .contains("CSV UTF-8");
  }

  @Test
  void whatTheFirmwareTakesOffIsToldByAWordAlsoByOneOfBefore(Service service) {
    String csv = "id,rates\nR-raw,raw\nR-con,Constant\nR-fol,follows\nR-old,corrected\nR-no,\n";
    Http.json(put(service, "", csv), "RosterChanges");
    assertThat(ratesOf(service, "R-raw")).isEqualTo("raw");
    assertThat(ratesOf(service, "R-con")).isEqualTo("constant");
    assertThat(ratesOf(service, "R-fol")).isEqualTo("follows");
    assertThat(ratesOf(service, "R-old")).isEqualTo("unknown");
    assertThat(ratesOf(service, "R-no")).isEqualTo("unknown");
    service.http.send(
        "PUT", "/api/trackers/R-con", "application/json", "{\"rates\":\"corrected\"}");
    assertThat(ratesOf(service, "R-con")).isEqualTo("unknown");
    assertThat(
            Http.problem(put(service, "", "id,rates\nR-raw,cooked\n"), 422, "invalid-content")
                .toString())
        .contains("rates \\\"cooked\\\" is not known; use raw, constant, follows or unknown.");
  }

  private static String ratesOf(Service service, String id) {
    return service.http.json("/api/trackers/" + id, "Tracker").get("rates").asText();
  }

  @Test
  void theTableGoesOutAndBackInUnchanged(Service service) {
    String csv =
        "\uFEFFid;name;temperature_offset_c;note\r\n"
            + "R-5;\"Say \"\"hi\"\"; twice\";-0,8;=1+1\r\n"
            + "R-6;-minus;0,25;@home\r\n";
    Http.json(put(service, "", csv), "RosterChanges");
    JsonNode read = service.http.json("/api/trackers/R-5", "Tracker");
    assertThat(read.get("name").asText()).isEqualTo("Say \"hi\"; twice");
    assertThat(read.get("temperature_offset_c").asDouble()).isEqualTo(-0.8);
    assertThat(read.get("note").asText()).isEqualTo("=1+1");

    String table = Http.csv(service.http.get("/api/trackers.csv"));
    assertThat(table).startsWith("id,name,lot,imu,board,rack,slot,power,rates,").contains("\r\n");
    assertThat(table).contains("'=1+1").contains("'-minus").contains("-0.80000");
    JsonNode same = Http.json(put(service, "", table), "RosterChanges");
    assertThat(same.get("added")).isEmpty();
    assertThat(same.get("changed")).isEmpty();
    assertThat(ids(same.get("unchanged"))).contains("R-5", "R-6");

    String commas = Http.csv(service.http.get("/api/trackers.csv?decimal=comma&t=17"));
    assertThat(commas).startsWith("id;name;").contains(";-0,80000;");
    assertThat(Http.json(put(service, "", commas), "RosterChanges").get("changed")).isEmpty();
  }

  @Test
  void theListAnswersJsonOrCsvByWhatIsAccepted(Service service) {
    service.http.json("/api/trackers", "TrackerList");
    Http.csv(service.http.get("/api/trackers", "Accept", "text/csv"));
    Http.json(
        service.http.get("/api/trackers", "Accept", "text/html, text/csv;q=0.4, */*;q=0.8"),
        "TrackerList");
    var refused = service.http.get("/api/trackers", "Accept", "image/png");
    assertThat(Http.problem(refused, 406, "not-acceptable").get("detail").asText())
        .contains("application/json or text/csv");
  }

  @Test
  void aTrackerWithMistakesIsRefusedMemberByMember(Service service) {
    String body =
        "{\"id\":\"R-9\",\"nam\":\"x\",\"power\":5,\"temperature_offset_c\":\"1\",\"note\":\"a\\n"
            + "b\"}";
    JsonNode problem =
        Http.problem(
            service.http.send("PUT", "/api/trackers/R-8", "application/json", body),
            422,
            "invalid-content");
    List<String> fields = new ArrayList<>();
    problem.get("problems").forEach(p -> fields.add(p.get("field").asText()));
    assertThat(fields)
        .containsExactlyInAnyOrder("id", "nam", "power", "temperature_offset_c", "note");
    Http.problem(
        service.http.send("PUT", "/api/trackers/R-8", "application/json", "[1"),
        400,
        "invalid-request");
    Http.problem(
        service.http.send("PUT", "/api/trackers/R-8", "text/plain", "{}"),
        415,
        "unsupported-media-type");
    Http.problem(
        service.http.send("PUT", "/api/trackers/R%208", "application/json", "{}"),
        400,
        "invalid-request");
    Http.problem(service.http.get("/api/trackers/R-8"), 404, "unknown-tracker");
  }

  private static List<String> ids(JsonNode list) {
    List<String> ids = new ArrayList<>();
    list.forEach(id -> ids.add(id.asText()));
    return ids;
  }

  @Test
  void aTrackerWithAMemberTwiceIsRefusedWhole(Service service) {
    String twice = "{\"name\":\"First\",\"name\":\"Second\"}";
    JsonNode problem =
        Http.problem(
            service.http.send("PUT", "/api/trackers/S-twice", "application/json", twice),
            400,
            "invalid-request");
    assertThat(problem.get("detail").asText()).contains("Duplicate field 'name'");
    assertThat(service.http.get("/api/trackers/S-twice").statusCode()).isEqualTo(404);
  }
}
