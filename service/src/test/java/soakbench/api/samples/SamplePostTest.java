package soakbench.api.samples;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.List;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Http;
import soakbench.api.Lines;
import soakbench.api.Schemas;
import soakbench.api.Service;
import soakbench.api.access.Guarded;
import soakbench.api.soaks.SoakTest;

@ExtendWith(Service.Running.class)
class SamplePostTest {
  private static final String NDJSON = "application/x-ndjson";

  private static JsonNode post(Service service, String type, String body) {
    return Http.json(service.http.send("POST", "/api/samples", type, body), "Upload");
  }

  private static void assertCounts(
      JsonNode answer, int accepted, int duplicate, int conflicting, int rejected) {
    assertThat(
            Arrays.asList(
                answer.get("accepted").asInt(),
                answer.get("duplicate").asInt(),
                answer.get("conflicting").asInt(),
                answer.get("rejected").asInt()))
        .as(answer.toString())
        .containsExactly(accepted, duplicate, conflicting, rejected);
  }

  @Test
  void ofAThousandLinesWithOneBadTheOthersAreKeptAndTheBadOneIsTold(Service service) {
    String[] lines = Lines.steady("P-thousand", Service.START_US, 1000).split("\n");
    lines[416] = "{\"id\":\"P-thousand\",\"time\":\"2026-03-01T08:00:41.6Z\",\"temp_c\":\"warm\"}";
    JsonNode answer = post(service, NDJSON, String.join("\n", lines) + "\n");
    assertCounts(answer, 999, 0, 0, 1);
    assertThat(answer.get("problems")).hasSize(1);
    assertThat(answer.get("problems").get(0).get("line").asInt()).isEqualTo(417);
    assertThat(answer.get("problems").get(0).get("reason").asText())
        .contains("temp_c must be a number");
    assertThat(answer.get("problems_left_off").asInt()).isZero();
  }

  @Test
  void sendingAgainDoesNoHarmAndOtherValuesAreCounted(Service service) {
    String body = Lines.steady("P-again", Service.START_US, 200);
    assertCounts(post(service, NDJSON, body), 200, 0, 0, 0);
    assertCounts(post(service, NDJSON, body), 0, 200, 0, 0);
    String other = Lines.json("P-again", Service.START_US, 24.5, 9.75);
    assertCounts(post(service, NDJSON, other), 0, 0, 1, 0);
    String twice = Lines.json("P-again", Service.START_US + 60_000_000, 24.5, 0.3);
    assertCounts(post(service, NDJSON, twice + twice), 1, 1, 0, 0);
  }

  @Test
  void whatCannotBePlacedInTimeOrHasNoIdIsRejectedWithTheReason(Service service) {
    String body =
        "{\"time\":\"2026-03-01T08:00:00Z\",\"temp_c\":20}\n"
            + "{\"id\":\"P-none\",\"temp_c\":20}\n"
            + "{\"id\":\"P-none\",\"t_ms\":20,\"temp_c\":20}\n"
            + "{\"id\":\"P-none\",\"arrival\":\"2026-03-01T08:00:00Z\",\"temp_c\":20}\n"
            + "boot: v1.2\n"
            + "x".repeat(5000)
            + "\n";
    JsonNode answer = post(service, NDJSON, body);
    assertCounts(answer, 0, 0, 0, 6);
    assertThat(answer.get("problems").get(0).get("reason").asText()).contains("no id");
    for (int i = 1; i <= 3; i++) {
      assertThat(answer.get("problems").get(i).get("reason").asText())
          .isEqualTo("The line needs time, or boot (an id per power-up) with t_ms.");
    }
    assertThat(answer.get("problems").get(5).get("reason").asText()).contains("4096 bytes");
  }

  @Test
  void onlyTheFirstHundredProblemsAreListed(Service service) {
    JsonNode answer = post(service, NDJSON, "chatter\n".repeat(130));
    assertCounts(answer, 0, 0, 0, 130);
    assertThat(answer.get("problems")).hasSize(100);
    assertThat(answer.get("problems_left_off").asInt()).isEqualTo(30);
  }

  @Test
  void csvIsTakenAndWhatIsReadBackCanBeSentAgain(Service service) {
    String csv =
        "id,time,temp_c,gx_dps,gy_dps,gz_dps,ax_g,ay_g,az_g\r\n"
            + "P-csv,2026-03-01T08:00:00Z,24.125,0.3125,-0.12,0.05,0,0,1\r\n"
            + "P-csv,2026-03-01T08:00:00.1Z,,0.3,-0.13,0.05,0,0,1\r\n"
            + "P-csv,2026-03-01T08:00:01.000001Z,24.25,-0.000012,-0.13,0.05,,,\r\n"
            + "P-csv,2026-03-01T08:00:05Z,24.25,0.3,-0.13,0.05,,,\r\n";
    assertCounts(post(service, "text/csv", csv), 4, 0, 0, 0);
    String soak = SoakTest.soakOf(service, "P-csv");
    String back = Http.csv(service.http.get("/api/soaks/" + soak + "/samples.csv"));
    assertThat(back.split("\r\n"))
        .startsWith(
            "id,time,since_start_ms,seq,t_ms,temp_c,gx_dps,gy_dps,gz_dps,ax_g,ay_g,az_g",
            "P-csv,2026-03-01T08:00:00Z,0,,,24.12500,0.31250,-0.12000,0.05000,"
                + "0.00000,0.00000,1.00000",
            "P-csv,2026-03-01T08:00:00.100Z,100,,,,0.30000,-0.13000,0.05000,"
                + "0.00000,0.00000,1.00000",
            "P-csv,2026-03-01T08:00:01.000001Z,1000,,,24.25000,-0.000012,-0.13000,0.05000,,,");
    assertCounts(post(service, "text/csv; charset=utf-8", back), 0, 4, 0, 0);
  }

  @Test
  void packedBodiesAreTakenAndBrokenOnesRefused(Service service) throws IOException {
    byte[] plain = Lines.steady("P-gzip", Service.START_US, 300).getBytes(StandardCharsets.UTF_8);
    ByteArrayOutputStream packed = new ByteArrayOutputStream();
    try (GZIPOutputStream gzip = new GZIPOutputStream(packed)) {
      gzip.write(plain);
    }
    assertCounts(
        Http.json(postPacked(service, "gzip", packed.toByteArray()), "Upload"), 300, 0, 0, 0);
    byte[] half = Arrays.copyOf(packed.toByteArray(), packed.size() / 2);
    JsonNode cut = Http.problem(postPacked(service, "gzip", half), 400, "invalid-request");
    assertThat(cut.get("detail").asText()).contains("gzip that ends too early");
    byte[] begun = Arrays.copyOf(packed.toByteArray(), 5);
    JsonNode short5 = Http.problem(postPacked(service, "gzip", begun), 400, "invalid-request");
    assertThat(short5.get("detail").asText())
        .isEqualTo(
            "The body is gzip that ends too early: a part of it is missing. Nothing of it was"
                + " kept. Send it again.");
    JsonNode none = Http.problem(postPacked(service, "gzip", plain), 400, "invalid-request");
    assertThat(none.get("detail").asText()).contains("is not gzip, as Content-Encoding says");
    Http.problem(postPacked(service, "br", plain), 415, "unsupported-media-type");
  }

  @Test
  void brokenChunksAreToldAsSuchPackedOrNot(Service service) throws IOException {
    for (String encoding : List.of("identity", "gzip")) {
      String answer =
          Guarded.bare(
              service.http.base(),
              "POST /api/samples HTTP/1.1\r\nHost: localhost\r\nContent-Type: text/csv\r\n"
                  + "Transfer-Encoding: chunked\r\nContent-Encoding: "
                  + encoding
                  + "\r\n\r\n3\r\n\u001f\u008b\b\r\nzz\r\n");
      assertThat(answer).as(encoding).startsWith("HTTP/1.1 400");
      assertThat(answer).doesNotContain("gzip").doesNotContain("null").contains("chunk");
      Schemas.valid(answer.split("\r\n\r\n", 2)[1], "Problem");
    }
  }

  @Test
  void aRefusalIsHeardHoweverMuchOfTheBodyWasLeftUnread(Service service) {
    byte[] lines = Lines.steady("P-rest", Service.START_US, 3000).getBytes(StandardCharsets.UTF_8);
    for (int again = 0; again < 50; again++) {
      assertThat(postPacked(service, again % 2 == 0 ? "gzip" : "br", lines).statusCode())
          .isIn(400, 415);
    }
  }

  private static HttpResponse<String> postPacked(Service service, String encoding, byte[] body) {
    return service.http.send(
        service
            .http
            .request("/api/samples", "Content-Type", NDJSON, "Content-Encoding", encoding)
            .POST(BodyPublishers.ofByteArray(body))
            .build());
  }

  @Test
  void tooMuchIsRefusedWhetherItIsSaidBeforeOrNot(Service service) throws IOException {
    byte[] blanks = new byte[(int) Service.LARGEST_UPLOAD_BYTES + 1];
    Arrays.fill(blanks, (byte) '\n');
    ByteArrayOutputStream packed = new ByteArrayOutputStream();
    try (GZIPOutputStream gzip = new GZIPOutputStream(packed)) {
      gzip.write(blanks);
    }
    JsonNode problem =
        Http.problem(postPacked(service, "gzip", packed.toByteArray()), 413, "too-large");
    assertThat(problem.get("detail").asText())
        .contains(Service.LARGEST_UPLOAD_BYTES + " bytes")
        .contains("smaller requests");
  }

  @Test
  void otherContentIsRefused(Service service) {
    JsonNode problem =
        Http.problem(
            service.http.send("POST", "/api/samples", "application/json", "[]"),
            415,
            "unsupported-media-type");
    assertThat(problem.get("detail").asText())
        .contains("application/x-ndjson")
        .contains("text/csv");
    Http.problem(
        service.http.send("POST", "/api/samples", null, "{}"), 415, "unsupported-media-type");
  }

  @Test
  void bootAndMillisecondsArePlacedByArrivalAndStayPutWhenSentAgain(Service service) {
    String line =
        "{\"id\":\"P-boot\",\"boot\":\"b1\",\"t_ms\":%d,\"temp_c\":24,\"gyro_dps\":[0,0,0]}\n";
    String body = line.formatted(1000) + line.formatted(1500) + line.formatted(5000);
    assertCounts(post(service, NDJSON, body), 3, 0, 0, 0);
    assertCounts(post(service, NDJSON, body), 0, 3, 0, 0);
    assertCounts(post(service, NDJSON, line.formatted(9000)), 1, 0, 0, 0);
    JsonNode future = post(service, NDJSON, line.formatted(60_000));
    assertCounts(future, 0, 0, 0, 1);
    assertThat(future.get("problems").get(0).get("reason").asText())
        .contains("t_ms 60000 of boot b1 lies more than 10 s after the request arrived");
    String soak = SoakTest.soakOf(service, "P-boot");
    JsonNode samples =
        service.http.json("/api/soaks/" + soak + "/samples", "SampleList").get("samples");
    assertThat(samples.get(0).get("time").asText()).isEqualTo("2026-03-01T07:59:56Z");
    assertThat(samples.get(0).get("t_ms").asInt()).isEqualTo(1000);
  }

  @Test
  void theRostersOffsetIsAddedToTemperatures(Service service) {
    service.http.send(
        "PUT", "/api/trackers/P-off", "application/json", "{\"temperature_offset_c\":-0.5}");
    post(service, NDJSON, Lines.steady("P-off", Service.START_US, 50));
    String soak = SoakTest.soakOf(service, "P-off");
    JsonNode samples =
        service.http.json("/api/soaks/" + soak + "/samples", "SampleList").get("samples");
    assertThat(samples.get(0).get("temperature_c").asDouble()).isEqualTo(24.0);
  }
}
