package soakbench.cli;

import static java.nio.charset.StandardCharsets.UTF_8;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.IOException;
import java.io.InputStream;
import java.net.HttpURLConnection;
import java.net.URI;

/** A service asked over HTTP. */
public final class Asked {
  private static final int CONNECT_MS = 5_000;

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
    Answer answer = send("GET", path, accept, null, "");
    if (wellOnly && answer.status() != 200) {
      throw new AssertionError(path + " answered " + answer.status() + ": " + answer.body());
    }
    return answer.body();
  }

  /** Sends a document, which must be taken. */
  public void send(String method, String path, String type, String body) {
    Answer answer = send(method, path, "application/json", type, body);
    if (answer.status() < 200 || answer.status() > 299) {
      throw new AssertionError(path + " answered " + answer.status() + ": " + answer.body());
    }
  }

  private record Answer(int status, String body) {}

  private Answer send(String method, String path, String accept, String type, String body) {
    try {
      HttpURLConnection asked = (HttpURLConnection) url.resolve(path).toURL().openConnection();
      asked.setConnectTimeout(CONNECT_MS);
      asked.setInstanceFollowRedirects(false);
      asked.setRequestMethod(method);
      asked.setRequestProperty("Accept", accept);
      // Else a service that is closed waits two seconds whether it is asked something more.
      asked.setRequestProperty("Connection", "close");
      if (type != null) {
        asked.setRequestProperty("Content-Type", type);
        asked.setDoOutput(true);
        asked.getOutputStream().write(body.getBytes(UTF_8));
      }
      int status = asked.getResponseCode();
      try (InputStream in = status < 400 ? asked.getInputStream() : asked.getErrorStream()) {
        return new Answer(status, in == null ? "" : new String(in.readAllBytes(), UTF_8));
      }
    } catch (IOException e) {
      throw new AssertionError(path + " could not be asked", e);
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
