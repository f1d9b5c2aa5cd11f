package soakbench.cli.recordings;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import javax.net.ssl.SSLContext;
import soakbench.api.http.Json;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.HttpAddress;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.sending.HttpDestination;

/** A running service, asked for JSON. */
public final class ServiceClient {
  private static final Duration PATIENCE = Duration.ofSeconds(60);

  private final URI service;
  private final String token;
  private final HttpClient http;
  private final HttpDestination destination;

  /**
   * @param service its address, http or https
   * @param token null for none
   * @param trust says which certificates are trusted; null for those that the system trusts
   * @throws CommandException if the address is none
   */
  public ServiceClient(URI service, String token, SSLContext trust) {
    String address = HttpAddress.of("--to", service.toString(), "http://HOST:8094").toString();
    this.service = URI.create(address + (address.endsWith("/") ? "" : "/"));
    this.token = token;
    HttpClient.Builder client = HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(10));
    this.http = trust == null ? client.build() : client.sslContext(trust).build();
    this.destination = new HttpDestination(service, () -> token, trust);
  }

  /** It gave no answer, or none that helps for now. */
  public static final class AwayException extends Exception {
    private static final long serialVersionUID = 1L;

    AwayException(String why, Exception cause) {
      super(why, cause);
    }
  }

  URI address() {
    return service;
  }

  /** Where samples are sent to one of its addresses, packed and in pieces that it takes. */
  Destination at(String path) {
    return destination.at(path);
  }

  static String escaped(String text) {
    return URLEncoder.encode(text, StandardCharsets.UTF_8);
  }

  /**
   * Asks.
   *
   * @param body sent as JSON; null for none
   * @throws AwayException if it is away, starting or busy
   * @throws CommandException if it refuses
   */
  public JsonNode ask(String method, String path, Object body) throws AwayException {
    HttpRequest.Builder request =
        HttpRequest.newBuilder(service.resolve(path))
            .timeout(PATIENCE)
            .header("Accept", "application/json");
    if (token != null) {
      request.header("Authorization", "Bearer " + token);
    }
    if (body != null) {
      request.header("Content-Type", "application/json");
    }
    HttpRequest.BodyPublisher sent =
        body == null
            ? HttpRequest.BodyPublishers.noBody()
            : HttpRequest.BodyPublishers.ofString(Json.write(body));
    try {
      return read(
          http.send(request.method(method, sent).build(), HttpResponse.BodyHandlers.ofString()));
    } catch (IOException e) {
      String why = e.getMessage() == null ? "nobody listens there" : e.getMessage();
      throw new AwayException(service + " can't be reached (" + why + ")", e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new AwayException("interrupted", e);
    }
  }

  private JsonNode read(HttpResponse<String> answer) throws AwayException, IOException {
    int status = answer.statusCode();
    JsonNode body = json(answer);
    if (status / 100 == 2 && body != null) {
      return body;
    }
    String detail = body == null ? "" : body.path("detail").asText("");
    String said = service + " answered " + status + (detail.isEmpty() ? "" : ": " + detail);
    if (status == 408 || status == 429 || status >= 500) {
      throw new AwayException(said, null);
    }
    String advice =
        status == 401 || status == 403
            ? " Check --token-file."
            : status == 404 && detail.isEmpty() || body == null
                ? "; is that the service's address?"
                : "";
    throw new CommandException(said + advice);
  }

  private static JsonNode json(HttpResponse<String> answer) {
    try {
      return Json.mapper().readTree(answer.body());
    } catch (IOException e) {
      // Not a service of ours; the caller says so by the status.
      return null;
    }
  }
}
