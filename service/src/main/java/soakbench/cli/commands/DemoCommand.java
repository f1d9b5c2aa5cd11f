package soakbench.cli.commands;

import java.io.IOException;
import java.io.PrintWriter;
import java.io.UncheckedIOException;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.concurrent.Callable;
import java.util.stream.Stream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.api.ApiSettings;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.SpoolOptions;
import soakbench.cli.running.ListeningPort;
import soakbench.cli.running.MonotonicClock;
import soakbench.cli.running.Role;
import soakbench.cli.running.Service;
import soakbench.cli.running.ShutdownHook;
import soakbench.demo.DemoRack;
import soakbench.demo.DemoSettings;
import soakbench.demo.DemoSlot;
import soakbench.demo.DemoTransports;
import soakbench.ingest.rackfile.ListenAddress;
import soakbench.ingest.rackfile.ListenSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.StampTolerance;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.spool.SqliteSpool;
import soakbench.store.server.DatabaseSettings;

/** Runs the service on a simulated rack. */
@Command(
    name = "demo",
    description = "Shows the board on a simulated rack of twelve trackers, faster than real time.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench demo --speed 60"})
public final class DemoCommand implements Callable<Integer> {
  private static final String LOOPBACK = "127.0.0.1";

  /** Simulated time is hours behind at first, and runs faster. */
  private static final StampTolerance SIMULATED = StampTolerance.BELIEVED;

  /** Each line bears its id, so no slot needs to set one. */
  private static final RackFile LISTENING =
      new RackFile(
          "demo", List.of(), ListenSettings.tcp(new ListenAddress(LOOPBACK, 0)), SIMULATED);

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

  /** What carries the simulated trackers' lines. */
  private enum Transport {
    TERMINALS,
    TCP
  }

  @Option(
      names = "--over",
      paramLabel = "WAY",
      description =
          "what carries the trackers' lines: ${COMPLETION-CANDIDATES} (default: pseudo-terminals,"
              + " TCP on this computer where there are none)")
  private Transport over;

  @Spec private CommandSpec spec;

  private volatile DemoRack rack;

  @Override
  public Integer call() throws IOException {
    if (!(speed >= 1 && speed <= 200)) {
      throw new CommandException(
          "--speed " + speed + " is outside 1 to 200 simulated seconds a second");
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
    ShutdownHook until = ShutdownHook.closing(() -> close(service, folder));
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
    Optional<String> obstacle = over == null ? DemoTransports.terminalObstacle() : Optional.empty();
    boolean tcp = over == Transport.TCP || obstacle.isPresent();
    try {
      DemoTransports transports =
          tcp ? DemoTransports.tcp(() -> listener(service)) : DemoTransports.terminals();
      DemoRack started = DemoRack.start(DemoSettings.at(speed, Instant.now()), transports);
      rack = started;
      service.database().roster().putAll(started.roster(), false);
      Path file = folder.resolve(SpoolOptions.FILE);
      service.read(
          tcp ? LISTENING : ports(started),
          SqliteSpool.open(file, SqliteSpool.DEFAULT_LIMIT_BYTES));
    } catch (IOException e) {
      throw new UncheckedIOException(e);
    }
    say("board at " + service.url());
    if (tcp) {
      String why = obstacle.map(o -> ": " + o).orElse("");
      say("the trackers' lines come over TCP on this computer" + why);
    }
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
    List<RackFile.Slot> slots = new ArrayList<>();
    for (DemoSlot slot : rack.slots()) {
      slot.port().ifPresent(port -> slots.add(new RackFile.Slot(slot.slot(), port.toString())));
    }
    return new RackFile("demo", slots).with(SIMULATED);
  }

  /** Where the service listens for lines, which is any free port of this computer. */
  private static Optional<InetSocketAddress> listener(Service service) {
    return service.sources().stream()
        .filter(source -> source.kind() == SourceKind.TCP && source.open())
        .map(source -> source.port().substring(source.port().lastIndexOf(':') + 1))
        .map(port -> new InetSocketAddress(LOOPBACK, Integer.parseInt(port)))
        .findFirst();
  }

  private static void delete(Path folder) throws IOException {
    try (Stream<Path> all = Files.walk(folder)) {
      for (Path path : all.sorted(Comparator.reverseOrder()).toList()) {
        Files.deleteIfExists(path);
      }
    }
  }
}
