package soakbench.cli;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.io.PrintWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.concurrent.TimeUnit;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;

/**
 * What {@code serve} costs: the program in a process of its own, fed through pseudo-terminals in
 * real time.
 */
@Command(
    name = "load",
    description =
        "Measures how much of one core serve and its database need, and how soon they answer.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench bench load --trackers 12 --rate-hz 50 --seconds 120"})
final class BenchLoadCommand implements Callable<Integer> {
  @Option(
      names = "--trackers",
      defaultValue = "12",
      description = "how many (default ${DEFAULT-VALUE})")
  private int trackers;

  @Option(
      names = "--rate-hz",
      defaultValue = "50",
      description = "lines a second of each (default ${DEFAULT-VALUE})")
  private double rateHz;

  @Option(
      names = "--seconds",
      defaultValue = "120",
      description = "how long (default ${DEFAULT-VALUE})")
  private int seconds;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws IOException, InterruptedException {
    PrintWriter out = spec.commandLine().getOut();
    Path data = Files.createTempDirectory("soakbench-bench-");
    serve(data, null, started -> null, out, "first start, new database");
    try (LoadRack rack = LoadRack.start(trackers, rateHz, seconds, data)) {
      serve(
          data,
          rack.rackFile(),
          started -> measure(started, data, rack),
          out,
          "start, existing database");
    }
    return 0;
  }

  private record Started(Process process, URI url) {}

  private interface Work {
    String with(Started started) throws IOException, InterruptedException;
  }

  private void serve(Path data, Path rackFile, Work work, PrintWriter out, String what)
      throws IOException, InterruptedException {
    long startNs = System.nanoTime();
    Process process = process(data, rackFile);
    try {
      Started started = new Started(process, url(process));
      awaitHealth(started);
      out.printf(
          Locale.ROOT, "%-28s healthy after %.1f s%n", what, (System.nanoTime() - startNs) / 1e9);
      out.flush();
      String found = work.with(started);
      if (found != null) {
        out.print(found);
        out.flush();
      }
    } finally {
      process.destroy();
      process.waitFor(30, TimeUnit.SECONDS);
    }
  }

  private Process process(Path data, Path rackFile) throws IOException {
    List<String> command =
        new java.util.ArrayList<>(
            List.of(
                Path.of(System.getProperty("java.home"), "bin", "java").toString(),
                "-cp",
                System.getProperty("java.class.path"),
                Main.class.getName(),
                "serve",
                "--data",
                data.resolve("db").toString(),
                "--port",
                "0"));
    if (rackFile != null) {
      command.addAll(List.of("--rack", rackFile.toString()));
    }
    return new ProcessBuilder(command).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  private static URI url(Process process) throws IOException {
    BufferedReader lines =
        new BufferedReader(new InputStreamReader(process.getInputStream(), StandardCharsets.UTF_8));
    for (String line = lines.readLine(); line != null; line = lines.readLine()) {
      if (line.startsWith("board at ")) {
        return URI.create(line.substring("board at ".length()).trim());
      }
    }
    throw new Failure("serve ended before it answered; see its message above");
  }

  private static void awaitHealth(Started started) throws IOException, InterruptedException {
    HttpClient http = HttpClient.newHttpClient();
    HttpRequest ask = HttpRequest.newBuilder(started.url().resolve("health")).build();
    while (http.send(ask, HttpResponse.BodyHandlers.discarding()).statusCode() != 200) {
      TimeUnit.MILLISECONDS.sleep(50);
    }
  }

  private String measure(Started started, Path data, LoadRack rack)
      throws IOException, InterruptedException {
    long program = started.process().pid();
    long server = ProcessCost.serverOf(data.resolve("db"));
    double programS = ProcessCost.cpuS(program);
    double serverS = ProcessCost.cpuOfTreeS(server);
    long linesBefore = rack.lines();
    TimeUnit.SECONDS.sleep(seconds);
    double programShare = (ProcessCost.cpuS(program) - programS) / seconds;
    double serverShare = (ProcessCost.cpuOfTreeS(server) - serverS) / seconds;
    return String.format(
        Locale.ROOT,
        "%d trackers, %.0f lines/s each, %d s: %d lines, %d bytes dropped by full ports%n"
            + "program   %5.1f %% of one core, %4.0f MiB resident%n"
            + "database  %5.1f %% of one core%n"
            + "together  %5.1f %% of one core%n",
        trackers,
        rateHz,
        seconds,
        rack.lines() - linesBefore,
        rack.bytesDropped(),
        100 * programShare,
        ProcessCost.residentMib(program),
        100 * serverShare,
        100 * (programShare + serverShare));
  }
}
