package soakbench.bench;

import java.io.IOException;
import java.io.PrintWriter;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Callable;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.cli.options.CommandException;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.KillableServer;
import soakbench.store.server.ServerAddress;

/**
 * What a plant costs: racks of many trackers, each rack an agent, services that write for some
 * racks each, one that reads, all on one database server on this computer.
 */
@Command(
    name = "plant",
    description =
        "Measures what racks of a plant cost, and which share of it this computer carries.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: bench plant --racks 4 --trackers 200 --rate-hz 5 --seconds 600"})
final class BenchPlantCommand implements Callable<Integer> {
  /** Of the plant that the documentation plans for. */
  private static final double PLANT_LINES_PER_S = 50 * 200 * 5;

  @Option(
      names = "--racks",
      defaultValue = "4",
      description = "how many racks, each with an agent (default ${DEFAULT-VALUE})")
  private int racks;

  @Option(
      names = "--trackers",
      defaultValue = "200",
      description = "trackers of a rack (default ${DEFAULT-VALUE})")
  private int trackers;

  @Option(
      names = "--rate-hz",
      defaultValue = "5",
      description = "lines a second of each tracker (default ${DEFAULT-VALUE})")
  private double rateHz;

  @Option(
      names = "--slower",
      defaultValue = "1",
      description =
          "how many times slower than the clock the trackers' time goes, for a computer that is too"
              + " small for the plant (default ${DEFAULT-VALUE})")
  private double slower;

  @Option(
      names = "--services",
      defaultValue = "2",
      description = "services that write, each for a part of the racks (default ${DEFAULT-VALUE})")
  private int services;

  @Option(
      names = "--heap",
      defaultValue = "1g",
      description = "heap of each service (default ${DEFAULT-VALUE})")
  private String heap;

  @Option(
      names = "--seconds",
      defaultValue = "600",
      description = "how long, by the trackers' time (default ${DEFAULT-VALUE})")
  private int seconds;

  @Option(
      names = "--db",
      paramLabel = "URL",
      description =
          "an empty database of a given server on this computer in place of one of its own, of a"
              + " superuser; it is filled")
  private String url;

  @Spec private CommandSpec spec;

  @Override
  public Integer call() throws Exception {
    if (services < 1 || services > racks) {
      throw new CommandException("--services must be from 1 to the number of racks, " + racks);
    }
    if (url != null) {
      measureAll(url);
      return 0;
    }
    Path folder = Files.createTempDirectory("soakbench-plant-");
    try (KillableServer database = new KillableServer(folder.resolve("database"))) {
      measureAll(database.url());
    }
    return 0;
  }

  private void measureAll(String database) throws Exception {
    List<Program> programs = new ArrayList<>();
    try {
      measure(database, programs);
    } finally {
      programs.forEach(Program::close);
    }
  }

  private void measure(String database, List<Program> programs) throws Exception {
    List<URI> urls = new ArrayList<>();
    for (int service = 0; service < services; service++) {
      int mine = service;
      String set =
          IntStream.range(0, racks)
              .filter(rack -> rack % services == mine)
              .mapToObj(PlantRack::name)
              .collect(Collectors.joining(","));
      programs.add(serve(database, "--racks", set));
      urls.add(URI.create(programs.get(service).said()));
    }
    programs.add(serve(database, "--read-only"));
    list(urls.get(0));
    long lines = Math.round(seconds * rateHz);
    List<PlantRack> agents =
        IntStream.range(0, racks)
            .mapToObj(rack -> new PlantRack(rack, trackers, rateHz, lines, slower, urls))
            .toList();
    Costs before = Costs.now(programs, database);
    agents.forEach(PlantRack::start);
    try {
      for (PlantRack agent : agents) {
        agent.finish();
      }
    } finally {
      agents.forEach(PlantRack::stop);
    }
    report(programs, before, Costs.now(programs, database), agents, database);
  }

  /** Processor time so far, s, and when. */
  private record Costs(List<Double> programsS, double databaseS, double agentsS, double atS) {
    static Costs now(List<Program> programs, String database) throws IOException, SQLException {
      List<Double> programsS = new ArrayList<>();
      for (Program program : programs) {
        programsS.add(ProcessCost.cpuS(program.pid()));
      }
      return new Costs(
          programsS,
          ProcessCost.cpuOfTreeS(server(database)),
          ProcessCost.cpuS(ProcessHandle.current().pid()),
          System.nanoTime() / 1e9);
    }
  }

  private Program serve(String database, String... more) throws IOException {
    List<String> serve = new ArrayList<>(List.of("serve", "--db", database, "--port", "0"));
    serve.addAll(List.of(more));
    return Program.start(List.of("-Xmx" + heap, "-XX:+UseSerialGC"), "board at ", serve);
  }

  /** The roster, so that each tracker belongs to its rack's service. */
  private void list(URI service) throws IOException, InterruptedException {
    StringBuilder roster = new StringBuilder("id,rack\n");
    for (int rack = 0; rack < racks; rack++) {
      for (int i = 0; i < trackers; i++) {
        roster.append(PlantRack.tracker(rack, i)).append(',').append(PlantRack.name(rack));
        roster.append('\n');
      }
    }
    HttpResponse<String> answer =
        HttpClient.newHttpClient()
            .send(
                HttpRequest.newBuilder(service.resolve("api/trackers"))
                    .header("Content-Type", "text/csv")
                    .PUT(HttpRequest.BodyPublishers.ofString(roster.toString()))
                    .build(),
                HttpResponse.BodyHandlers.ofString());
    if (answer.statusCode() != 200) {
      throw new CommandException("the roster was not taken: " + answer.body());
    }
  }

  private void report(
      List<Program> programs, Costs before, Costs after, List<PlantRack> agents, String database)
      throws IOException, SQLException {
    PrintWriter out = spec.commandLine().getOut();
    double tookS = after.atS() - before.atS();
    double samples = number(database, "SELECT count(*)::float8 FROM sample");
    double offered = racks * trackers * rateHz;
    out.printf(
        Locale.ROOT,
        "%d racks of %d trackers at %.1f lines/s for %d s: %.0f lines/s, %.1f %% of %.0f%n",
        racks,
        trackers,
        rateHz,
        seconds,
        offered,
        100 * offered / PLANT_LINES_PER_S,
        PLANT_LINES_PER_S);
    out.printf(
        Locale.ROOT,
        "the trackers' time %.1f times slower than the clock; %.0f of %.0f lines stored in %.0f"
            + " s%n",
        slower,
        samples,
        offered * seconds,
        tookS);
    out.printf(
        Locale.ROOT,
        "stored after %.1f s (median of the racks' medians; %.1f at most)%n",
        agents.stream().mapToDouble(PlantRack::medianDelayS).sorted().toArray()[racks / 2],
        agents.stream().mapToDouble(PlantRack::longestDelayS).max().orElseThrow());
    for (int i = 0; i < programs.size(); i++) {
      double share = (after.programsS().get(i) - before.programsS().get(i)) / tookS;
      out.printf(
          Locale.ROOT,
          "%s %5.1f %% of one core, %4.0f MiB resident%n",
          i < services ? "writes   " : "reads    ",
          100 * share,
          programs.get(i).residentMib());
    }
    share(out, "database", (after.databaseS() - before.databaseS()) / tookS);
    share(out, "agents", (after.agentsS() - before.agentsS()) / tookS);
    out.printf(
        Locale.ROOT, "%.0f bytes a sample on disk, its second with it%n", bytesEach(database));
    out.flush();
  }

  private static void share(PrintWriter out, String whose, double ofOneCore) {
    out.printf(Locale.ROOT, "%-9s %5.1f %% of one core%n", whose, 100 * ofOneCore);
  }

  /** The process of the database server, whose backends are its children. */
  private static long server(String database) throws SQLException {
    String firstLine = "SELECT split_part(pg_read_file('postmaster.pid'), E'\\n', 1)::float8";
    return (long) number(database, firstLine);
  }

  private static double bytesEach(String database) throws SQLException {
    return number(
        database,
        "WITH t (id) AS (VALUES ('sample'::regclass::oid), ('bin'::regclass::oid)), parts (id) AS"
            + " (TABLE t UNION ALL SELECT inhrelid FROM pg_inherits JOIN t ON inhparent = id)"
            + " SELECT sum(pg_total_relation_size(id))::float8"
            + " / greatest(1, (SELECT count(*) FROM sample)) FROM parts");
  }

  private static double number(String database, String sql) throws SQLException {
    try (Connection connection =
            ServerAddress.of(DatabaseSettings.url(database)).dataSource(0).getConnection();
        Statement statement = connection.createStatement();
        ResultSet rows = statement.executeQuery(sql)) {
      rows.next();
      return rows.getDouble(1);
    }
  }
}
