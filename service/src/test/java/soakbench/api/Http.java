package soakbench.api;

import static org.assertj.core.api.Assertions.assertThat;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.time.Duration;
import soakbench.api.http.Json;

/**
 * Asks a running service and holds every JSON answer against its published schema, and every
 * refusal against the statuses that are published of the call.
 */
public final class Http {
  private final HttpClient client = HttpClient.newHttpClient();
  private final URI base;

  public Http(URI base) {
    this.base = base;
  }

  public URI base() {
    return base;
  }

  public HttpResponse<String> get(String path, String... headers) {
    return send(request(path, headers).GET().build());
  }

  public HttpResponse<String> send(String method, String path, String type, String body) {
    HttpRequest.Builder request = request(path);
    if (type != null) {
      request.header("Content-Type", type);
    }
    return send(request.method(method, BodyPublishers.ofString(body)).build());
  }

  public HttpRequest.Builder request(String path, String... headers) {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(base.resolve(path)).timeout(Duration.ofSeconds(60));
    if (headers.length > 0) {
      request.headers(headers);
    }
    return request;
  }

  public HttpResponse<String> send(HttpRequest request) {
    try {
      HttpResponse<String> answer = client.send(request, BodyHandlers.ofString());
      Described.expects(request.method(), request.uri().getPath(), answer.statusCode());
      return answer;
    } catch (IOException e) {
      throw new IllegalStateException(e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IllegalStateException(e);
    }
  }

  /** The JSON of a successful answer, valid by the named schema. */
  public JsonNode json(String path, String schema) {
    return json(get(path), schema);
  }

  public static JsonNode json(HttpResponse<String> answer, String schema) {
    assertThat(answer.statusCode()).as(answer.body()).isBetween(200, 299);
    assertThat(answer.headers().firstValue("Content-Type")).hasValue("application/json");
    return Schemas.valid(answer.body(), schema);
  }

  /** The problem document of a failed answer, valid by its schema. */
  public static JsonNode problem(HttpResponse<String> answer, int status, String kind) {
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(status);
    assertThat(answer.headers().firstValue("Content-Type")).hasValue("application/problem+json");
    JsonNode problem = Schemas.valid(answer.body(), "Problem");
    assertThat(problem.get("status").asInt()).isEqualTo(status);
    assertThat(problem.get("type").asText()).isEqualTo("urn:soakbench:problem:" + kind);
    return problem;
  }

  /** The text of a CSV answer. */
  public static String csv(HttpResponse<String> answer) {
    assertThat(answer.statusCode()).as(answer.body()).isEqualTo(200);
    assertThat(answer.headers().firstValue("Content-Type")).hasValue("text/csv; charset=utf-8");
    assertThat(answer.headers().firstValue("Cache-Control")).hasValue("no-store");
    return answer.body();
  }

  /** What the service would answer for this, read back. */
  public static JsonNode tree(Object value) {
    try {
      return Json.mapper().readTree(Json.write(value));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
  }
}
