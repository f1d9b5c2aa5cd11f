package soakbench.cli.commands;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.api.ApiSettings;
import soakbench.cli.options.Failure;
import soakbench.cli.options.SpoolOptions;
import soakbench.cli.running.ListeningPort;
import soakbench.cli.running.MonotonicClock;
import soakbench.cli.running.Role;
import soakbench.cli.running.Service;
import soakbench.cli.running.UntilStopped;
import soakbench.demo.DemoRack;
import soakbench.demo.DemoSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.StampRule;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.store.server.DatabaseSettings;

/** Runs the service on a simulated rack. */
@Command(
    name = "demo",
    description = "Shows the board on a simulated rack of twelve trackers, faster than real time.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench demo --speed 60"})
public final class DemoCommand implements Callable<Integer> {
  @Option(
      names = "--speed",
      defaultValue = "30",
      description = "simulated seconds a second, 1 to 200 (default ${DEFAULT-VALUE})")
  private double speed;

  @Option(
      names = "--port",
      defaultValue = "8094",
      description = "port to listen on, 0 for any (default ${DEFAULT-VALUE})")
  private int port;

  @Spec private CommandSpec spec;

  private volatile DemoRack rack;

  @Override
  public Integer call() throws IOException {
    if (!(speed >= 1 && speed <= 200)) {
      throw new Failure("--speed " + speed + " is outside 1 to 200 simulated seconds a second");
    }
    Path folder = Files.createTempDirectory("soakbench-demo-data-");
    Service service;
    try {
      // Silence is noticed in real time: faster, a busy computer would look like a dead tracker.
      service =
          Service.opened(
              DatabaseSettings.embedded(folder),
              ApiSettings.local(ListeningPort.checked(port, spec)),
              null,
              new MonotonicClock(),
              null,
              Role.WRITES);
    } catch (RuntimeException e) {
      delete(folder);
      throw e;
    }
    UntilStopped until = UntilStopped.closing(() -> close(service, folder));
    try {
      say("starting; the first time takes some seconds");
      service.begin(step -> say(step + " ..."), () -> show(service, folder));
    } catch (RuntimeException e) {
      if (!until.isStopping()) {
        close(service, folder);
        throw e;
      }
    }
    until.await();
    return 0;
  }

  private void say(String line) {
    PrintWriter out = spec.commandLine().getOut();
    out.println(line);
    out.flush();
  }

  private void show(Service service, Path folder) {
    try {
      DemoRack started = DemoRack.start(DemoSettings.at(speed, Instant.now()));
      rack = started;
      service.database().roster().putAll(started.roster(), false);
      Path file = folder.resolve(SpoolOptions.FILE);
      service.read(ports(started), SqliteSpool.open(file, SqliteSpool.DEFAULT_LIMIT_BYTES));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    say("board at " + service.url());
    say(
        String.format(
            Locale.ROOT,
            "twelve simulated trackers, %.0f simulated seconds a second; stop with Ctrl-C",
            speed));
  }

  private synchronized void close(Service service, Path folder) throws IOException {
    service.close();
    DemoRack started = rack;
    if (started != null) {
      started.close();
    }
    if (Files.exists(folder)) {
      delete(folder);
    }
  }

  private static RackFile ports(DemoRack rack) {
    List<RackFile.Slot> slots =
        rack.slots().stream().map(s -> new RackFile.Slot(s.slot(), s.port().toString())).toList();
    // Simulated time is hours behind at first, and hurries.
    return new RackFile("demo", slots).with(StampRule.BELIEVED);
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(path);
      }
    }
  }
}
