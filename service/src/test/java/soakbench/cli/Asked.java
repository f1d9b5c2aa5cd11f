package soakbench.cli;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;

/** A service asked over HTTP. */
public final class Asked {
  private static final HttpClient HTTP =
      HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(5)).build();

  private final URI url;

  public Asked(URI url) {
    this.url = url;
  }

  public JsonNode json(String path) {
    return parse(text(path, "application/json"));
  }

  /** What {@code /health} says, well or not. */
  public JsonNode health() {
    return parse(text("/health", "application/json", false));
  }

  public String csv(String path) {
    return text(path, "text/csv");
  }

  private String text(String path, String accept) {
    return text(path, accept, true);
  }

  private String text(String path, String accept, boolean wellOnly) {
    try {
      HttpResponse<String> answer =
          HTTP.send(
              HttpRequest.newBuilder(url.resolve(path)).header("Accept", accept).build(),
              HttpResponse.BodyHandlers.ofString());
      if (wellOnly && answer.statusCode() != 200) {
        throw new AssertionError(path + " answered " + answer.statusCode() + ": " + answer.body());
      }
      return answer.body();
    } catch (IOException e) {
      throw new AssertionError(path + " could not be asked", e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AssertionError(e);
    }
  }

  private static JsonNode parse(String text) {
    try {
      return new ObjectMapper().readTree(text);
    } catch (IOException e) {
      throw new AssertionError("not JSON: " + text, e);
    }
  }
}
