package soakbench.cli.commands;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.net.URI;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Spec;
import soakbench.api.access.PairingCode;
import soakbench.api.http.Json;
import soakbench.cli.options.ServiceOptions;

/** Requests another pairing code from a running service. */
@Command(
    name = "pair",
    description =
        "Prints a code and a QR code that let one phone or browser into a running service.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench pair --token-file token"})
public final class PairCommand implements Callable<Integer> {
  @Mixin private ServiceOptions service;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    JsonNode reply = Json.mapper().readTree(service.post("/api/pairing-codes"));
    List<URI> pages = new ArrayList<>();
    reply.get("pages").forEach(page -> pages.add(URI.create(page.asText())));
    PairingCode code =
        new PairingCode(
            reply.get("code").asText(), Instant.parse(reply.get("expires").asText()), pages);
    PairingNotice.print(code, spec.commandLine().getOut());
    return 0;
  }
}
