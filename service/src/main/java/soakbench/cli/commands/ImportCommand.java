package soakbench.cli.commands;

import com.fasterxml.jackson.databind.JsonNode;
import java.io.IOException;
import java.io.PrintWriter;
import java.net.URI;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Parameters;
import picocli.CommandLine.Spec;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.LineOptions;
import soakbench.cli.options.PemFiles;
import soakbench.cli.options.TokenSource;
import soakbench.cli.recordings.ImportRun;
import soakbench.cli.recordings.RecordingFiles;
import soakbench.cli.recordings.ServiceClient;
import soakbench.cli.recordings.ServiceClient.AwayException;

/** Brings recordings into a running service, and takes them out again. */
@Command(
    name = "import",
    description =
        "Brings recordings (.jsonl, .csv, also gzipped) into a running service; whole folders, any"
            + " size. Nothing of them counts as live, and sending them again does no harm.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench import --lot Barley-2 recordings/"})
public final class ImportCommand implements Callable<Integer> {
  @Parameters(
      arity = "0..*",
      paramLabel = "FILE|FOLDER",
      description = "recordings, and folders with recordings")
  private List<Path> named = List.of();

  @Option(
      names = "--to",
      paramLabel = "URL",
      defaultValue = "http://127.0.0.1:8094",
      description = "the service (default ${DEFAULT-VALUE})")
  private URI to;

  @Option(
      names = "--lot",
      paramLabel = "LOT",
      description = "gives this lot to those of the trackers that have none in the roster")
  private String lot;

  @Option(
      names = "--go-on",
      paramLabel = "N",
      description = "goes on with import N: files that are in are passed over")
  private long goOn;

  @Option(names = "--list", description = "lists imports, the newest first")
  private boolean list;

  @Option(
      names = "--undo",
      paramLabel = "N",
      description = "takes out all that import N brought, and nothing else; needs --reason")
  private long undo;

  @Option(names = "--reason", paramLabel = "TEXT", description = "why it is undone, in a line")
  private String reason;

  @Option(
      names = "--patience",
      paramLabel = "SECONDS",
      defaultValue = "60",
      description = "waits so long for a service that is away (default ${DEFAULT-VALUE})")
  private int patienceS;

  @Option(
      names = "--token-file",
      paramLabel = "FILE",
      description =
          "the service's token for writing, else from the variable " + TokenSource.VARIABLE)
  private Path tokenFile;

  @Option(
      names = "--tls-cert",
      paramLabel = "FILE",
      description = "trust this certificate (PEM), for one that nobody vouches for")
  private Path certificate;

  @Mixin private LineOptions lineOptions;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException {
    requireOne();
    ServiceClient service =
        new ServiceClient(
            to,
            TokenSource.read(tokenFile, System.getenv()),
            certificate == null ? null : PemFiles.trusting(certificate));
    PrintWriter out = spec.commandLine().getOut();
    try {
      if (list) {
        list(service, out);
        return 0;
      }
      if (undo > 0) {
        undo(service, out);
        return 0;
      }
      ImportRun run =
          new ImportRun(
              service, lineOptions.lines(), lot, Duration.ofSeconds(Math.max(0, patienceS)), out);
      return run.bring(RecordingFiles.of(named), goOn, sender()) ? 0 : 1;
    } catch (AwayException e) {
      throw new CommandException(e.getMessage() + "; is the service running there?", e);
    }
  }

  private void requireOne() {
    int ways = (named.isEmpty() ? 0 : 1) + (list ? 1 : 0) + (undo > 0 ? 1 : 0);
    if (ways != 1) {
      throw new CommandException(
          "name recordings or folders to bring in, or give one of --list and --undo N");
    }
    if (undo > 0 && (reason == null || reason.isBlank())) {
      throw new CommandException("--undo needs --reason \"…\": those who read the list must know");
    }
  }

  private static String sender() {
    return "soakbench import by " + System.getProperty("user.name", "somebody");
  }

  private static void list(ServiceClient service, PrintWriter out) throws AwayException {
    String row = "%6s  %-20s  %-7s  %5s  %6s  %10s  %s%n";
    out.printf(row, "import", "began", "stage", "files", "failed", "samples", "by; why undone");
    for (JsonNode i : service.ask("GET", "api/imports?limit=1000", null).path("imports")) {
      String why = i.path("reason").isNull() ? "" : "; " + i.path("reason").asText();
      out.printf(
          row,
          i.path("import").asText(),
          i.path("began").asText().replaceFirst("\\.\\d+", ""),
          i.path("stage").asText(),
          i.path("files_all").asText(),
          i.path("files_failed").asText(),
          i.path("accepted").asText(),
          i.path("sender").asText() + why);
    }
    out.flush();
  }

  /** A call takes out for some seconds; it is asked again until all is out. */
  private void undo(ServiceClient service, PrintWriter out) throws AwayException {
    JsonNode now;
    do {
      now = service.ask("POST", "api/imports/" + undo + "/undo", Map.of("reason", reason));
    } while (now.path("stage").asText().equals("undoing"));
    out.printf(
        "import %d is undone: %s samples taken out; what came by other ways stays%n",
        undo, now.path("taken_out").asText());
    out.flush();
  }
}
