package soakbench.api.health;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import soakbench.api.access.AccessGuard;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.Problem;
import soakbench.api.http.Problems;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.Times;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.deriving.DerivationStatus;
import soakbench.model.State;
import soakbench.store.Database;
import soakbench.store.connection.DatabaseHealth;
import soakbench.store.room.Room;
import soakbench.store.room.RoomWatch;

/** The health of the service. */
public final class HealthCalls {
  private static final Table<DatabaseHealth> DATABASE =
      new Table<DatabaseHealth>()
          .member("state", d -> d.ok() ? "up" : "away")
          .member("kind", DatabaseHealth::kind)
          .member("hypertables", DatabaseHealth::hypertables)
          .member("compression", DatabaseHealth::compression)
          .member("minute_means", DatabaseHealth::minuteMeans)
          .member("moving", d -> d.moving().orElse(null))
          .member("version", DatabaseHealth::serverVersion)
          .member("message", DatabaseHealth::message);

  private static final String VERSION = HealthCalls.class.getPackage().getImplementationVersion();

  private final Database database;
  private final LiveVerdicts live;
  private final Supplier<Optional<String>> ingest;
  private final Supplier<DerivationStatus> derivation;
  private final ServiceStatus service;

  /**
   * @param ingest what keeps the rack's samples from being read or stored, in a sentence
   * @param derivation the status of figures and calibrations
   */
  public HealthCalls(
      Database database,
      LiveVerdicts live,
      Supplier<Optional<String>> ingest,
      Supplier<DerivationStatus> derivation,
      ServiceStatus service) {
    this.database = database;
    this.live = live;
    this.ingest = ingest;
    this.derivation = derivation;
    this.service = service;
  }

  public void addTo(Routes routes) {
    routes.get(Routes.HEALTH, this::health);
  }

  /**
   * The whole answer.
   *
   * @param version of the program; null where it does not run from its jar
   * @param status ok, or trouble where the service answers but the rack is not read, or figures of
   *     some soaks are not derived
   * @param mode writes, or reads where another service writes
   * @param writesFor the racks that it writes for, in words; null where it reads
   * @param writer that other one; null where this one writes, or nobody does
   * @param trouble what keeps the rack's samples from being read or stored; null where nothing does
   * @param figures the status of figures and calibrations
   * @param room of the database; null where it was not looked at yet
   */
  record Health(
      String version,
      String status,
      String mode,
      String writesFor,
      String writer,
      Object database,
      long trackersHeard,
      String trouble,
      DerivationStatus figures,
      Room room) {}

  /** The answer without the token. */
  record Brief(String status) {}

  private void health(Context ctx) {
    ResponseFormat.requireJson(ctx);
    DatabaseHealth found = database.health();
    Optional<String> step = service.step();
    Optional<ServiceStatus.Trouble> trouble = service.trouble();
    if (step.isPresent()) {
      String detail = "The service is starting: " + step.get() + ".";
      unwell(ctx, Problem.of(Problem.Kind.STARTING, detail), found, null);
    } else if (!found.ok()) {
      Long sinceUs = trouble.map(ServiceStatus.Trouble::sinceUs).orElse(null);
      Problem away = Problem.of(Problem.Kind.STORE_UNAVAILABLE, found.message());
      unwell(ctx, away, found, sinceUs);
    } else if (trouble.isPresent()) {
      Problem stuck = Problem.of(Problem.Kind.NOT_JUDGING, trouble.get().why() + ".");
      unwell(ctx, stuck, found, trouble.get().sinceUs());
    } else {
      well(ctx, found);
    }
  }

  private void well(Context ctx, DatabaseHealth found) {
    boolean reads = service.isReadOnly();
    String writer = reads ? service.writer().orElse(null) : null;
    String trouble =
        reads && writer == null
            ? "No service writes to the database, so nothing new is stored or shown."
            : ingest.get().or(this::lowRoom).orElse(null);
    DerivationStatus figures = derivation.get();
    String status = trouble == null && figures.reason() == null ? "ok" : "trouble";
    if (AccessGuard.isStranger(ctx)) {
      JsonResponses.json(ctx, new Brief(status));
      return;
    }
    String mode = reads ? "reads" : "writes";
    String racks = reads ? null : service.racks().words();
    JsonResponses.json(
        ctx,
        new Health(
            VERSION,
            status,
            mode,
            racks,
            writer,
            DATABASE.json(found),
            heard(),
            trouble,
            figures,
            database.room().newest().orElse(null)));
  }

  private Optional<String> lowRoom() {
    RoomWatch room = database.room();
    return room.newest().filter(r -> r.nearnessPercent(room.limits()) >= 100).map(Room::words);
  }

  private void unwell(Context ctx, Problem problem, DatabaseHealth found, Long sinceUs) {
    ctx.header("Retry-After", problem.type().endsWith("starting") ? "2" : "5");
    if (AccessGuard.isStranger(ctx)) {
      Problems.write(ctx, problem.brief());
      return;
    }
    Map<String, Object> more = new LinkedHashMap<>();
    more.put("database", DATABASE.json(found));
    more.put("trackers_heard", heard());
    more.put("since", sinceUs == null ? null : Times.text(sinceUs));
    more.put("figures", derivation.get());
    Problems.write(ctx, problem.status(), problem.with(more));
  }

  private long heard() {
    return live.readiness().stream().filter(v -> v.state() != State.SILENT).count();
  }
}
