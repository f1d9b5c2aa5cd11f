package soakbench.api;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.stream.Stream;
import java.util.zip.GZIPOutputStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.extension.ExtendWith;
import soakbench.api.Described.Call;
import soakbench.api.access.AccessLimits;
import soakbench.api.access.AccessSettings;
import soakbench.api.access.Guarded;
import soakbench.api.health.ServiceStatus;
import soakbench.api.soaks.SoakTest;
import soakbench.live.figures.FigureDeriver;

/**
 * What every call refuses: whatever would bring each status about is tried on all calls, and those
 * that answer it are just those that the description tells it of.
 */
@ExtendWith(Service.Running.class)
class OpenApiRefusalsTest {
  private static final String TRACKER = "R-17";
  private static final String LOT = "R-lot";
  private static final String JSON = "application/json";

  private static String soak;
  private static long imported;

  @BeforeAll
  static void record(Service service) {
    SoakTest.send(service, Lines.warmUp(TRACKER, Service.START_US, 3));
    String lot = "{\"lot\":\"" + LOT + "\"}";
    service.http.send("PUT", "/api/trackers/" + TRACKER, JSON, lot);
    while (new FigureDeriver(service.database.figures()).deriveOutdated() > 0) {
      continue;
    }
    soak = SoakTest.soakOf(service, TRACKER);
    imported = service.database.imports().begin("a test", "127.0.0.1");
  }

  @Test
  void withoutTheTokenWhereThereIsOne(Service service) {
    try (Guarded guarded = Guarded.closed(service)) {
      Refusals.check(401, call -> Stream.of(request(guarded.http, call, known(call))));
    }
  }

  @Test
  void fromAPageOfAnotherSite(Service service) {
    Refusals.check(
        403,
        call ->
            Stream.of(
                request(service.http, call, known(call))
                    .header("Origin", "https://elsewhere.example")));
  }

  @Test
  void aboutWhatIsNotThere(Service service) {
    Refusals.check(404, call -> Stream.of(request(service.http, call, unknown(call))));
  }

  @Test
  void inAFormThatNoCallGives(Service service) {
    Refusals.check(
        406,
        call ->
            Stream.of(request(service.http, call, unknown(call)).header("Accept", "image/png")));
  }

  @Test
  void whatDoesNotFitWhatIsThereOrAServiceThatOnlyReads(Service service) {
    ServiceStatus reads = ServiceStatus.ready();
    reads.readsOnly(List.of());
    try (ApiServer server = service.hearing(ApiSettings.local(0), a -> {}, reads)) {
      Http http = new Http(server.url());
      Refusals.check(409, call -> Stream.of(request(http, call, known(call))));
    }
  }

  @Test
  void aboutWhatIsNoLongerKept(Service service) throws SQLException {
    String drop = "UPDATE soak SET samples_kept = false, samples_dropped = %s WHERE id = ?";
    service.execute(drop.formatted("now()"), soak);
    try {
      Refusals.check(
          410,
          call ->
              call.method().equals("GET")
                  ? Stream.of(request(service.http, call, known(call)))
                  : Stream.empty());
    } finally {
      service.execute(drop.formatted("NULL").replace("false", "true"), soak);
    }
  }

  @Test
  void inATypeThatPagesOfOtherSitesMaySend(Service service) {
    Refusals.check(
        415,
        call ->
            Stream.of(
                request(service.http, call, known(call)).header("Content-Type", "text/plain")));
  }

  @Test
  void underANameThatIsNotOurs(Service service) {
    String headers = "Host: elsewhere.example\r\nContent-Length: 0\r\n";
    Refusals.checkAnswered(
        421,
        call -> {
          String line = call.method() + " " + known(call) + " HTTP/1.1\r\n";
          try {
            return Guarded.bare(service.http.base(), line + headers).startsWith("HTTP/1.1 421");
          } catch (IOException e) {
            throw new UncheckedIOException(e);
          }
        });
  }

  @Test
  void moreThanAClientsShare(Service service) {
    AccessLimits none = new AccessLimits(1, 0, 10, 100, 10, AccessLimits.LOCAL.longestRequest());
    ApiSettings settings = ApiSettings.local(0).withAccess(AccessSettings.OPEN.withLimits(none));
    try (ApiServer server = service.hearing(settings, a -> {})) {
      Http http = new Http(server.url());
      Refusals.check(429, call -> Stream.of(request(http, call, unknown(call))));
    }
  }

  @Test
  void whatCanNotBeUnderstood(Service service) {
    Refusals.check(
        400,
        call -> {
          List<HttpRequest.Builder> tried = new ArrayList<>();
          String address = known(call);
          for (var parameter : call.parameters()) {
            if (parameter.get("in").asText().equals("query")) {
              String misspelt = parameter.get("name").asText() + "x";
              tried.add(request(service.http, call, address + "?" + misspelt + "=1"));
            }
          }
          tried.add(request(service.http, call, address.replaceAll("/2026-[^/]+$", "/never")));
          tried.add(body(service, call, JSON, "{".getBytes()));
          tried.add(
              body(service, call, "text/csv", "{".getBytes()).header("Content-Encoding", "gzip"));
          return tried.stream();
        });
  }

  @Test
  void whatHasMistakes(Service service) {
    Refusals.check(
        422,
        call ->
            Stream.of(
                body(service, call, JSON, "{\"nonsense\":1}".getBytes()),
                body(service, call, JSON, "{\"by\":\"\"}".getBytes()),
                body(service, call, "text/csv", "nonsense\r\n1\r\n".getBytes())));
  }

  @Test
  void whatIsTooLarge(Service service) {
    Refusals.checkAnswered(413, call -> isTooLarge(service, call));
  }

  private static boolean isTooLarge(Service service, Call call) {
    JsonNode taken = call.operation().path("requestBody").path("content");
    if (taken.isMissingNode()) {
      return false;
    }
    String type = taken.fieldNames().next();
    return switch (type) {
      case "application/x-ndjson" ->
          Refusals.gives(413, body(service, call, type, gzip()).header("Content-Encoding", "gzip"));
      case "application/x-www-form-urlencoded" ->
          Refusals.gives(413, body(service, call, type, new byte[2000]));
      default -> Refusals.gives(413, body(service, call, type, new byte[(4 << 20) + 1]));
    };
  }

  /** Lines without anything on them. */
  private static byte[] gzip() {
    ByteArrayOutputStream packed = new ByteArrayOutputStream();
    try (GZIPOutputStream gzip = new GZIPOutputStream(packed)) {
      gzip.write("\n".repeat((int) Service.LARGEST_UPLOAD_BYTES + 1).getBytes());
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    return packed.toByteArray();
  }

  private static HttpRequest.Builder body(Service service, Call call, String type, byte[] body) {
    return service
        .http
        .request(known(call) + required(call), "Content-Type", type)
        .method(call.method(), BodyPublishers.ofByteArray(body));
  }

  /** What is asked for in the address of every such request. */
  private static String required(Call call) {
    String words = "";
    for (var parameter : call.parameters()) {
      if (parameter.path("required").asBoolean() && parameter.get("in").asText().equals("query")) {
        words += (words.isEmpty() ? "?" : "&") + parameter.get("name").asText() + "=one.jsonl";
      }
    }
    return words;
  }

  private static HttpRequest.Builder request(Http http, Call call, String address) {
    return http.request(address).method(call.method(), BodyPublishers.noBody());
  }

  private static String known(Call call) {
    return address(call, TRACKER, soak, LOT);
  }

  private static String unknown(Call call) {
    return address(call, "R-none", "none", "none");
  }

  private static String address(Call call, String tracker, String soak, String lot) {
    return call.path()
        .replace("{id}", tracker)
        .replace("{tracker}", tracker)
        .replace("{figure}", "state")
        .replace("{soak}", soak)
        .replace("{lot}", lot)
        .replace("{import}", tracker.equals(TRACKER) ? String.valueOf(imported) : "none")
        .replace("{at}", "2026-03-01T08:00:00Z");
  }
}
