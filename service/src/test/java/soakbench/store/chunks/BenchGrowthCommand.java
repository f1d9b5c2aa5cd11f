package soakbench.store.chunks;

import com.fasterxml.jackson.databind.ObjectMapper;
import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.sql.SQLException;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Option;
import soakbench.bench.ProcessCost;
import soakbench.bench.Program;
import soakbench.cli.options.CommandException;
import soakbench.store.Database;
import soakbench.store.server.DatabaseSettings;

/**
 * What a service needs to start and to answer where a hundredth, a tenth and all of a history is
 * stored, and then beside many soaks that go on.
 */
@Command(
    name = "growth",
    description = "Measures starts and answers of a service as the history grows.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: bench growth --millions 20 --db jdbc:postgresql://HOST/NAME?user=USER"})
public final class BenchGrowthCommand extends HistoryBench {
  private static final int TRIALS = 15;
  private static final int WARM_UP = 5;
  private static final int QUIET_S = 15;

  private static final String[] CALLS = {
    "api/readiness",
    "api/soaks?limit=100",
    "api/soaks?tracker=H-0&limit=20",
    "api/trackers/H-0/figures",
    "api/figures"
  };

  @Option(
      names = "--open",
      defaultValue = "200",
      description = "soaks that go on, after that (default ${DEFAULT-VALUE})")
  private int open;

  @Option(
      names = "--open-minutes",
      defaultValue = "60",
      description = "how long each of these is (default ${DEFAULT-VALUE})")
  private int openMinutes;

  private final HttpClient http = HttpClient.newHttpClient();
  private final ObjectMapper json = new ObjectMapper();

  @Override
  void measure(DatabaseSettings settings) throws Exception {
    Database.open(settings).close();
    try (StoredHistory history = StoredHistory.beside(settings)) {
      for (double part : PARTS) {
        try (Database database = Database.open(settings)) {
          grow(database, history, part);
        }
        serve(settings.url(), history, 0);
      }
      try (Database database = Database.open(settings)) {
        history.openSoaks(database, open, openMinutes * 60);
      }
      print("beside %d soaks that go on, %d minutes each%n", open, openMinutes);
      serve(settings.url(), history, open);
    }
  }

  /** Lets a service derive what is due, then starts it anew and asks it. */
  private void serve(String db, StoredHistory history, int soaking) throws Exception {
    try (Program ignored = start(db)) {
      awaitDerived(history);
    }
    history.settle();
    long startNs = System.nanoTime();
    try (Program service = start(db)) {
      URI at = URI.create(service.said());
      while (get(at, "health").statusCode() != 200) {
        TimeUnit.MILLISECONDS.sleep(20);
      }
      print(
          "  healthy %.1f s after its start, of which %.1f s of a processor%n",
          (System.nanoTime() - startNs) / 1e9, ProcessCost.cpuS(service.pid()));
      print("  %-34s %6.0f ms%n", "first data of the first board", onceMs(() -> firstData(at)));
      int there = json.readTree(get(at, "api/readiness").body()).path("trackers").size();
      if (there != soaking) {
        throw new CommandException("of " + soaking + " open soaks " + there + " are judged");
      }
      print("  %-34s %6.0f ms%n", "of a later one", medianMs(() -> firstData(at)));
      for (String call : CALLS) {
        print("  %-34s %6.0f ms%n", call, medianMs(() -> isThere(get(at, call))));
      }
    }
  }

  private static Program start(String db) throws IOException {
    return Program.start(
        List.of("-Xmx1g", "-XX:TieredStopAtLevel=1"),
        "board at ",
        List.of("serve", "--db", db, "--port", "0"));
  }

  /** Until nothing more is derived for a while. */
  private static void awaitDerived(StoredHistory history)
      throws SQLException, InterruptedException {
    long before = -1;
    for (long now = 0; now == 0 || now != before; now = history.derived()) {
      before = now;
      TimeUnit.SECONDS.sleep(QUIET_S);
    }
  }

  private HttpResponse<byte[]> get(URI at, String call) throws IOException, InterruptedException {
    return http.send(
        HttpRequest.newBuilder(at.resolve(call)).build(), HttpResponse.BodyHandlers.ofByteArray());
  }

  private static void isThere(HttpResponse<byte[]> answer) {
    if (answer.statusCode() != 200) {
      throw new CommandException(answer.uri() + " answered " + answer.statusCode());
    }
  }

  /** The first event with verdicts; a client that comes anew, as a board does. */
  private void firstData(URI at) throws IOException, InterruptedException {
    HttpResponse<InputStream> events =
        http.send(
            HttpRequest.newBuilder(at.resolve("api/events"))
                .header("Accept", "text/event-stream")
                .build(),
            HttpResponse.BodyHandlers.ofInputStream());
    try (BufferedReader lines =
        new BufferedReader(new InputStreamReader(events.body(), StandardCharsets.UTF_8))) {
      String line = "";
      while (line != null && !line.equals("event: readiness")) {
        line = lines.readLine();
      }
      if (line == null || lines.readLine() == null) {
        throw new CommandException("the events ended before there were verdicts");
      }
    }
  }

  private static double medianMs(Work work) throws IOException, InterruptedException {
    List<Double> ms = new ArrayList<>();
    for (int trial = 0; trial < WARM_UP + TRIALS; trial++) {
      double once = onceMs(work);
      if (trial >= WARM_UP) {
        ms.add(once);
      }
    }
    return median(ms);
  }

  private static double onceMs(Work work) throws IOException, InterruptedException {
    long startNs = System.nanoTime();
    work.run();
    return (System.nanoTime() - startNs) / 1e6;
  }

  private interface Work {
    void run() throws IOException, InterruptedException;
  }
}
