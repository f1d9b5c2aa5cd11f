package soakbench.cli.options;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpRequest.BodyPublishers;
import java.net.http.HttpResponse;
import java.net.http.HttpResponse.BodyHandlers;
import java.nio.file.Path;
import java.time.Duration;
import java.util.function.UnaryOperator;
import picocli.CommandLine.Option;
import soakbench.api.http.Json;

/** Where a running service is, and how it is asked. */
public final class ServiceOptions {
  private static final Duration PATIENCE = Duration.ofSeconds(30);

  @Option(
      names = "--to",
      paramLabel = "URL",
      defaultValue = "http://127.0.0.1:8094",
      description = "the service (default ${DEFAULT-VALUE})")
  private URI service;

  @Option(
      names = "--token-file",
      paramLabel = "FILE",
      description = "the service's token, else from the variable " + TokenSource.VARIABLE)
  private Path tokenFile;

  @Option(
      names = "--tls-cert",
      paramLabel = "FILE",
      description = "trust this certificate (PEM), for one that nobody vouches for")
  private Path certificate;

  /**
   * What an address of the service answers.
   *
   * @param path begins with a slash
   * @param accept media type
   * @throws CommandException if the service can't be reached or refuses, in its own words
   */
  public String get(String path, String accept) throws IOException {
    return answer(path, request -> request.header("Accept", accept).GET());
  }

  /** The same of a call without a body that changes something. */
  public String post(String path) throws IOException {
    return answer(path, request -> request.POST(BodyPublishers.noBody()));
  }

  private String answer(String path, UnaryOperator<HttpRequest.Builder> call) throws IOException {
    HttpResponse<String> answer = send(path, call, TokenSource.read(tokenFile, System.getenv()));
    if (answer.statusCode() == 401) {
      throw new CommandException(
          service + " wants its token: --token-file or " + TokenSource.VARIABLE);
    }
    if (answer.statusCode() / 100 != 2) {
      throw new CommandException(service + " answers: " + refusal(answer));
    }
    return answer.body();
  }

  private HttpResponse<String> send(
      String path, UnaryOperator<HttpRequest.Builder> call, String token) throws IOException {
    URI address = HttpAddress.of("--to", service.toString(), "http://HOST:8094").resolve(path);
    try {
      HttpRequest.Builder request = HttpRequest.newBuilder(address).timeout(PATIENCE);
      if (token != null) {
        request.header("Authorization", "Bearer " + token);
      }
      return client().send(call.apply(request).build(), BodyHandlers.ofString());
    } catch (IOException e) {
      String why = e.getMessage() == null ? "nobody answers" : e.getMessage();
      throw new CommandException(
          service + " can't be reached (" + why + "); is the service running there?", e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted", e);
    }
  }

  private HttpClient client() throws IOException {
    HttpClient.Builder client = HttpClient.newBuilder().connectTimeout(PATIENCE);
    return certificate == null
        ? client.build()
        : client.sslContext(PemFiles.trusting(certificate)).build();
  }

  /** All that is wrong, as the service says it. */
  private static String refusal(HttpResponse<String> answer) {
    try {
      JsonNode problem = Json.mapper().readTree(answer.body());
      StringBuilder words = new StringBuilder(problem.path("detail").asText());
      for (JsonNode item : problem.path("problems")) {
        String reason = item.path("reason").asText();
        words.append(words.indexOf(reason) < 0 ? " " + reason : "");
      }
      return words.isEmpty() ? "status " + answer.statusCode() : words.toString();
    } catch (JsonProcessingException e) {
      return "status " + answer.statusCode() + ", no problem document; is it Soakbench?";
    }
  }
}
