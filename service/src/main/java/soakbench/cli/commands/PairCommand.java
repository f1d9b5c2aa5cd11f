package soakbench.cli.commands;

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
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.api.access.PairingCode;
import soakbench.api.http.Json;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.PemFiles;
import soakbench.cli.options.TokenSource;

/** Requests another pairing code from a running service. */
@Command(
    name = "pair",
    description =
        "Prints a code and a QR code that let one phone or browser into a running service.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench pair --token-file token"})
public final class PairCommand implements Callable<Integer> {
  private static final Duration PATIENCE = Duration.ofSeconds(10);
  private static final int CREATED = 201;

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

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    String token = TokenSource.read(tokenFile, System.getenv());
    if (token == null) {
      throw new CommandException(
          "the service's token is needed: --token-file or " + TokenSource.VARIABLE);
    }
    PairingNotice.print(code(token), spec.commandLine().getOut());
    return 0;
  }

  private PairingCode code(String token) throws IOException {
    HttpResponse<String> answer = ask(token);
    JsonNode reply = Json.mapper().readTree(answer.body());
    if (answer.statusCode() != CREATED) {
      throw new CommandException(service + " gives no code: " + reply.path("detail").asText());
    }
    List<URI> pages = new ArrayList<>();
    reply.get("pages").forEach(page -> pages.add(URI.create(page.asText())));
    return new PairingCode(
        reply.get("code").asText(), Instant.parse(reply.get("expires").asText()), pages);
  }

  private HttpResponse<String> ask(String token) throws IOException {
    try {
      HttpRequest request =
          HttpRequest.newBuilder(service.resolve("/api/pairing-codes"))
              .timeout(PATIENCE)
              .header("Authorization", "Bearer " + token)
              .POST(BodyPublishers.noBody())
              .build();
      return client().send(request, BodyHandlers.ofString());
    } catch (IllegalArgumentException e) {
      throw new CommandException(
          "--to " + service + " is no address like http://127.0.0.1:8094", e);
    } catch (IOException e) {
      throw new CommandException(unreached(e), e);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted", e);
    }
  }

  private String unreached(IOException e) {
    String reply = e.getMessage() == null ? "nobody answers" : e.getMessage();
    return service + " can't be reached (" + reply + "); is the service running there?";
  }

  private HttpClient client() throws IOException {
    HttpClient.Builder client = HttpClient.newBuilder().connectTimeout(PATIENCE);
    return certificate == null
        ? client.build()
        : client.sslContext(PemFiles.trusting(certificate)).build();
  }
}
