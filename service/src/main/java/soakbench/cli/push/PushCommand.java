package soakbench.cli.push;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.http.HttpClient;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.time.LocalTime;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.PemFiles;
import soakbench.cli.options.TokenSource;
import soakbench.host.SecretVariable;

/** Posts tables of a running service to an address outside, for a spreadsheet that can't ask. */
@Command(
    name = "push",
    description =
        "Posts tables (CSV) of a running service to an address on a schedule: for a hosted"
            + " spreadsheet, which can't reach the bench. Nothing else is sent.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: soakbench push --to https://sheets.example/hook --tables readiness,figures",
      "The address gets one POST a table, with ?table=NAME. What has not changed is not sent."
    })
public final class PushCommand implements Callable<Integer> {
  static final String VARIABLE = "SOAKBENCH_PUSH_TOKEN";

  private static final Duration CONNECT = Duration.ofSeconds(5);
  private static final int LONGEST_S = 86_400;

  @Option(names = "--to", paramLabel = "URL", required = true, description = "where to post them")
  private String to;

  @Option(
      names = "--from",
      paramLabel = "URL",
      defaultValue = "http://127.0.0.1:8094",
      description = "the service (default ${DEFAULT-VALUE})")
  private String from;

  @Option(
      names = "--tables",
      paramLabel = "NAME",
      split = ",",
      defaultValue = "readiness",
      description =
          "which: readiness, figures, calibrations, soaks, trackers, alarms … (default"
              + " ${DEFAULT-VALUE})")
  private List<String> tables;

  @Option(
      names = "--query",
      paramLabel = "TEXT",
      defaultValue = "",
      description = "what to ask of each table, as lot=K14&decimal=comma")
  private String query;

  @Option(
      names = "--every",
      paramLabel = "SECONDS",
      defaultValue = "60",
      description = "how often (default ${DEFAULT-VALUE})")
  private int everyS;

  @Option(names = "--once", description = "once, and not again")
  private boolean once;

  @Option(
      names = "--token-file",
      paramLabel = "FILE",
      description = "the address's token (Authorization: Bearer), else from " + VARIABLE)
  private Path tokenFile;

  @Option(
      names = "--service-token-file",
      paramLabel = "FILE",
      description = "the service's token, else from " + TokenSource.VARIABLE)
  private Path serviceTokenFile;

  @Option(
      names = "--tls-cert",
      paramLabel = "FILE",
      description = "trust this certificate (PEM) of the service")
  private Path certificate;

  @Option(names = "--plain", description = "also over http to another computer, for all to read")
  private boolean plain;

  @Option(
      names = "--redirect-is-taken",
      description = "the address says by a redirect (302, 303) that it has a table")
  private boolean redirectTaken;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException, InterruptedException {
    if (everyS < 1 || everyS > LONGEST_S) {
      throw new CommandException("--every " + everyS + " must be 1 to " + LONGEST_S + " seconds");
    }
    PushTarget target = PushTarget.of(to, token(System.getenv()), plain, redirectTaken);
    PushedTables read =
        new PushedTables(
            PushTarget.address("--from", from),
            query,
            TokenSource.read(serviceTokenFile, System.getenv()),
            client());
    TablePost post = new TablePost(target);
    String names = String.join(", ", tables);
    say("posting %s of %s to %s%s".formatted(names, from, target.shown(), rhythm()));
    boolean taken;
    do {
      taken = round(read, post, target);
    } while (!once);
    return taken ? 0 : 1;
  }

  private String rhythm() {
    return once ? ", once" : " every " + everyS + " s; stop with Ctrl-C";
  }

  private String token(Map<String, String> environment) throws IOException {
    String given =
        tokenFile == null
            ? SecretVariable.read(VARIABLE, environment)
            : Files.readString(tokenFile).strip();
    if (given != null && !given.matches("[!-~]+")) {
      throw new CommandException("the address's token is not one word of plain characters");
    }
    return given;
  }

  private HttpClient client() throws IOException {
    HttpClient.Builder client = HttpClient.newBuilder().connectTimeout(CONNECT);
    return certificate == null
        ? client.build()
        : client.sslContext(PemFiles.trusting(certificate)).build();
  }

  /** Each table once, then the rest of the time until the next round; true where all arrived. */
  private boolean round(PushedTables read, TablePost post, PushTarget target)
      throws InterruptedException {
    long nextNs = System.nanoTime() + Duration.ofSeconds(everyS).toNanos();
    boolean all = true;
    for (String table : tables) {
      all &= push(table, read, post, target);
    }
    if (!once) {
      Thread.sleep(Duration.ofNanos(Math.max(0, nextNs - System.nanoTime())).toMillis());
    }
    return all;
  }

  private boolean push(String table, PushedTables read, TablePost post, PushTarget target)
      throws InterruptedException {
    try {
      Optional<PushedTables.Read> now = read.read(table);
      if (now.isEmpty()) {
        say(table + ": as before, not sent");
        return true;
      }
      PushedTables.Read csv = now.get();
      int tries = post.send(table, csv.csv(), Duration.ofSeconds(everyS));
      read.sent(table, csv);
      say(
          "%s: %d rows, %d bytes sent to %s%s"
              .formatted(
                  table,
                  csv.rows(),
                  csv.csv().length,
                  target.shown(),
                  tries == 1 ? "" : " at try " + tries));
      return true;
    } catch (IOException e) {
      say(table + ": NOT sent: " + (e.getMessage() == null ? e.toString() : e.getMessage()));
      return false;
    }
  }

  private void say(String line) {
    PrintWriter out = spec.commandLine().getOut();
    out.println(LocalTime.now().truncatedTo(ChronoUnit.SECONDS) + " " + line);
    out.flush();
  }
}
