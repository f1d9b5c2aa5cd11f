package soakbench.cli.commands;

import java.io.IOException;
import java.io.PrintWriter;
import java.nio.file.Path;
import java.util.List;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Mixin;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.api.ApiSettings;
import soakbench.cli.options.AccessOptions;
import soakbench.cli.options.AlarmOptions;
import soakbench.cli.options.ChunkOptions;
import soakbench.cli.options.CommandException;
import soakbench.cli.options.KeepingOptions;
import soakbench.cli.options.LimitsFile;
import soakbench.cli.options.SpoolOptions;
import soakbench.cli.options.StoreOptions;
import soakbench.cli.options.UploadOptions;
import soakbench.cli.running.ListeningPort;
import soakbench.cli.running.MonotonicClock;
import soakbench.cli.running.Role;
import soakbench.cli.running.Service;
import soakbench.cli.running.ShutdownHook;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.RackFileParser;
import soakbench.model.Limits;
import soakbench.model.RackSet;
import soakbench.model.Tracker;
import soakbench.store.Roster;
import soakbench.store.connection.Retries;

/** Runs the service. */
@Command(
    name = "serve",
    description = "Runs the service; with --rack it reads the rack's serial ports too.",
    mixinStandardHelpOptions = true,
    footer = {
      "",
      "Example: soakbench serve --rack rack.yaml",
      "A second one, that takes over: soakbench serve --db URL --standby",
      "For two racks of many: soakbench serve --db URL --racks A,B",
      "For phones: soakbench serve --rack rack.yaml --lan --token-file token"
    })
public final class ServeCommand implements Callable<Integer> {
  private static final int MOST_TRACKERS = 10_000;

  @Mixin private StoreOptions store;

  @Option(
      names = "--port",
      defaultValue = "8094",
      description = "port to listen on, 0 for any (default ${DEFAULT-VALUE})")
  private int port;

  @Option(
      names = "--rack",
      paramLabel = "FILE",
      description = "rack file (YAML): which tracker is read at which port")
  private Path rackFile;

  @Option(
      names = "--racks",
      paramLabel = "A,B",
      split = ",",
      description =
          "writes for these racks only, as the roster has them, - for trackers without one;"
              + " another service may write for others")
  private List<String> racks;

  @Option(
      names = "--limits",
      paramLabel = "FILE",
      description = "limits (YAML) instead of the defaults")
  private Path limitsFile;

  @Mixin private AccessOptions access;

  @Mixin private UploadOptions uploads;

  @Mixin private SpoolOptions spool;

  @Mixin private AlarmOptions alarms;

  @Mixin private KeepingOptions keeping;

  @Mixin private ChunkOptions chunks;

  @Spec private CommandSpec spec;

  private volatile boolean boardShown;

  @Option(
      names = "--read-only",
      description = "shows what another service writes to the same database, and writes nothing")
  private boolean readOnly;

  @Option(
      names = "--standby",
      description = "as --read-only, until the other service is gone; then takes over")
  private boolean standby;

  @Option(
      names = "--metrics-trackers",
      paramLabel = "N",
      defaultValue = "0",
      description =
          "tells state and temperature of up to N trackers in /metrics (default ${DEFAULT-VALUE}:"
              + " of none)")
  private int metricsTrackers;

  @Override
  public Integer call() throws IOException {
    keeping.check(!store.settings().isEmbedded());
    Limits limits = limitsFile == null ? null : LimitsFile.read(limitsFile);
    RackFile rack = rackFile == null ? null : RackFileParser.read(rackFile);
    refuseOtherRack(rack);
    Role role = role();
    ApiSettings api = settings();
    Service service =
        Service.opened(
            store.settings().with(chunks.settings()),
            api,
            limits,
            new MonotonicClock(),
            alarms.post(),
            role,
            racks());
    keeping.applyTo(service.database());
    ShutdownHook until = ShutdownHook.closing(service::close);
    try {
      say("listening on port " + service.url().getPort());
      service.begin(step -> say(step + " ..."), () -> write(rack, service));
      if (!boardShown) {
        showBoard(service);
      }
    } catch (RuntimeException e) {
      if (!until.isStopping()) {
        service.close();
        throw e;
      }
    }
    until.await();
    return 0;
  }

  private ApiSettings settings() throws IOException {
    if (metricsTrackers < 0 || metricsTrackers > MOST_TRACKERS) {
      throw new CommandException(
          "--metrics-trackers %d is outside 0 to %d".formatted(metricsTrackers, MOST_TRACKERS));
    }
    return access
        .settings(ListeningPort.checked(port, spec))
        .withUploads(uploads.limits())
        .withMetricTrackers(metricsTrackers);
  }

  private Role role() {
    if (readOnly && standby) {
      throw new CommandException(
          "--read-only never takes over and --standby does; give one of them");
    }
    if (readOnly && rackFile != null) {
      throw new CommandException(
          "--read-only reads no ports; leave --rack away, or give --standby");
    }
    if (readOnly && racks != null) {
      throw new CommandException("--read-only shows all racks; leave --racks away");
    }
    return readOnly ? Role.READS : standby ? Role.STANDS_BY : Role.WRITES;
  }

  private RackSet racks() {
    try {
      return racks == null ? RackSet.ALL : RackSet.of(racks);
    } catch (IllegalArgumentException e) {
      throw new CommandException("--racks: " + e.getMessage(), e);
    }
  }

  /** What is read on a rack that another service writes for would be set aside here. */
  private void refuseOtherRack(RackFile rack) {
    if (rack != null && !racks().has(rack.rack())) {
      throw new CommandException(
          "--rack %s is of %s, and --racks names others; add it there, or read it by an agent"
              .formatted(rackFile, RackSet.words(rack.rack())));
    }
  }

  private synchronized void say(String line) {
    PrintWriter out = spec.commandLine().getOut();
    out.println(line);
    out.flush();
  }

  private synchronized void showBoard(Service service) {
    boardShown = true;
    say("board at " + service.url());
    service
        .newPairingCode()
        .ifPresent(code -> PairingNotice.print(code, spec.commandLine().getOut()));
    say("stop with Ctrl-C");
  }

  private void write(RackFile rack, Service service) {
    if (!boardShown) {
      showBoard(service);
    }
    if (rack != null) {
      Roster roster = service.database().roster();
      Retries.untilThere(
          () -> {
            place(rack, roster);
            return null;
          });
      service.read(rack, spool.open(store.data()));
    }
  }

  /** A slot that names its tracker puts it there in the roster too. */
  private static void place(RackFile rack, Roster roster) {
    for (RackFile.Slot slot : rack.slots()) {
      if (slot.lines().tracker() != null) {
        Tracker t =
            roster
                .find(slot.lines().tracker())
                .orElseGet(() -> Tracker.unknown(slot.lines().tracker()));
        roster.put(
            new Tracker(
                t.id(),
                t.name(),
                t.lot(),
                t.imu(),
                t.board(),
                rack.rack(),
                slot.name(),
                t.power(),
                t.rates(),
                t.temperatureOffsetC(),
                t.note()));
      }
    }
  }
}
