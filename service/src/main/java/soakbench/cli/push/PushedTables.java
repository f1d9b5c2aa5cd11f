package soakbench.cli.push;

import static java.nio.charset.StandardCharsets.UTF_8;

import java.io.IOException;
import java.net.ConnectException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;

/** Reads tables of a service, each only where it is another than before. Not thread-safe. */
final class PushedTables {
  private static final Duration ANSWER = Duration.ofSeconds(60);

  private final URI service;
  private final String query;
  private final String token;
  private final HttpClient http;
  private final Map<String, String> tags = new HashMap<>();

  /**
   * A table as it was read.
   *
   * @param tag tells it from the next; null where the service gives none
   */
  record Read(byte[] csv, String tag) {

    long rows() {
      long lines = 0;
      for (byte b : csv) {
        lines += b == '\n' ? 1 : 0;
      }
      return Math.max(0, lines - 1);
    }
  }

  /**
   * @param query what is asked of each table; empty for nothing
   * @param token the service's; null where it asks for none
   */
  PushedTables(URI service, String query, String token, HttpClient http) {
    this.service = service;
    this.query = query;
    this.token = token;
    this.http = http;
  }

  /**
   * The table as it is now; empty where it is as it was when it was {@link #sent} last.
   *
   * @throws IOException if it can't be read, in words
   */
  Optional<Read> read(String table) throws IOException, InterruptedException {
    String sign = query.isEmpty() ? "" : "?" + query;
    HttpRequest.Builder request =
        HttpRequest.newBuilder(service.resolve("/api/" + table + ".csv" + sign)).timeout(ANSWER);
    if (token != null) {
      request.header("Authorization", "Bearer " + token);
    }
    if (tags.containsKey(table)) {
      request.header("If-None-Match", tags.get(table));
    }
    HttpResponse<byte[]> answer = answer(request.build());
    if (answer.statusCode() == 304) {
      return Optional.empty();
    }
    if (answer.statusCode() != 200) {
      throw new IOException(
          "the service answered " + answer.statusCode() + ": " + new String(answer.body(), UTF_8));
    }
    return Optional.of(new Read(answer.body(), answer.headers().firstValue("ETag").orElse(null)));
  }

  private HttpResponse<byte[]> answer(HttpRequest request)
      throws IOException, InterruptedException {
    try {
      return http.send(request, BodyHandlers.ofByteArray());
    } catch (ConnectException e) {
      throw new IOException(
          "the service at %s can't be reached; is it running there?".formatted(service), e);
    }
  }

  /** What was read has arrived. */
  void sent(String table, Read read) {
    if (read.tag() != null) {
      tags.put(table, read.tag());
    }
  }
}
