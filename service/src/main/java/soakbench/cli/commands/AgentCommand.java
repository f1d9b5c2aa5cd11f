package soakbench.cli.commands;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.URI;
import java.nio.file.Files;
import java.nio.file.NoSuchFileException;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import javax.net.ssl.SSLContext;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.cli.options.HttpAddress;
import soakbench.cli.options.PemFiles;
import soakbench.cli.options.SpoolOptions;
import soakbench.cli.running.AgentReport;
import soakbench.cli.running.ShutdownHook;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.RackFileParser;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.sending.HttpDestination;
import soakbench.ingest.sending.SeveralServices;
import soakbench.ingest.sending.SeveralServices.Named;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.live.StoreException;

/** Reads a rack and sends its samples to a service on another computer. */
@Command(
    name = "agent",
    description =
        "Reads a rack's ports and sends the samples to a service; keeps them on disk while it is"
            + " away.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: soakbench agent --rack rack.yaml --to http://service.example:8094",
      "To one of two: soakbench agent --rack rack.yaml --to http://one.example:8094 --to"
          + " http://two.example:8094"
    })
public final class AgentCommand implements Callable<Integer> {
  @Option(
      names = "--to",
      paramLabel = "URL",
      required = true,
      description =
          "the service's address: http://HOST:PORT; given several times, the next one is tried"
              + " where one does not answer or does not write for a rack")
  private List<String> to;

  @Option(
      names = "--rack",
      paramLabel = "FILE",
      description =
          "rack file (YAML): which tracker is read at which port; without it, what is in the spool"
              + " is sent")
  private Path rackFile;

  @Option(
      names = "--token-file",
      paramLabel = "FILE",
      description = "file with the token for writing, where the service asks for one")
  private Path tokenFile;

  @Option(
      names = "--tls-cert",
      paramLabel = "FILE",
      description = "trust this certificate (PEM), for one that nobody vouches for")
  private Path certificate;

  @Mixin private SpoolOptions spoolOptions;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    List<URI> services =
        to.stream().map(t -> HttpAddress.of("--to", t, "http://HOST:8094")).distinct().toList();
    RackFile rack = rackFile == null ? new RackFile("", List.of()) : RackFileParser.read(rackFile);
    TokenFile token = new TokenFile(tokenFile);
    token.get();
    SSLContext trust = certificate == null ? null : PemFiles.trusting(certificate);
    Destination destination =
        new SeveralServices(
            services.stream()
                .map(s -> new Named(s.toString(), to(s, token, trust, rack)))
                .toList());
    Path file = spoolOptions.file(Path.of(""));
    SqliteSpool spool = spoolOptions.open(Path.of(""));
    PrintWriter out = spec.commandLine().getOut();
    Agent agent = new Agent(rack, spool, destination, reason -> {});
    AgentReport report = new AgentReport(agent, out);
    out.printf("reading %s for %s, spool %s%n", what(rack), words(services), file);
    out.println("stop with Ctrl-C");
    out.flush();
    agent.start();
    report.start();
    ShutdownHook.run(
        () -> {
          report.close();
          agent.close();
          spool.close();
        });
    return 0;
  }

  private static Destination to(URI service, TokenFile token, SSLContext trust, RackFile rack) {
    return new HttpDestination(service, token, trust).reading(rack.rack());
  }

  private static String what(RackFile rack) {
    String slots = rack.slots().size() + " slots";
    return rack.listen().isNothing() ? slots : slots + " and what is sent over the network";
  }

  private static String words(List<URI> services) {
    return services.stream().map(URI::toString).collect(Collectors.joining(" or "));
  }

  /** Reads the token anew each time: it can be changed while the agent runs. */
  private record TokenFile(Path file) implements Supplier<String> {
    private StoreException unusable(String why, IOException cause) {
      String what = "--token-file " + file + " can't be used: " + why;
      return new StoreException(what, cause, true);
    }

    @Override
    public String get() {
      if (file == null) {
        return null;
      }
      try {
        String token = Files.readString(file).strip();
        if (token.matches("[!-~]+")) {
          return token;
        }
        throw unusable("it does not hold one word of plain characters", null);
      } catch (NoSuchFileException e) {
        throw unusable("it does not exist", e);
      } catch (IOException e) {
        throw unusable("this user may not read it", e);
      }
    }
  }
}
