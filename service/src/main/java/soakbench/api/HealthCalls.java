package soakbench.api;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import soakbench.live.SoakWatch;
import soakbench.live.StoreException;
import soakbench.model.State;
import soakbench.store.Database;
import soakbench.store.DatabaseHealth;
import soakbench.store.Writer;

/** Whether the service can do its work. */
final class HealthCalls {
  private final Database database;
  private final SoakWatch watch;
  private final Supplier<Optional<String>> reading;
  private final Standing standing;

  /**
   * @param reading what keeps the rack's samples from being read or stored, in a sentence
   */
  HealthCalls(
      Database database, SoakWatch watch, Supplier<Optional<String>> reading, Standing standing) {
    this.database = database;
    this.watch = watch;
    this.reading = reading;
    this.standing = standing;
  }

  void addTo(Routes routes) {
    routes.get("/health", this::health);
  }

  /**
   * The database's part.
   *
   * @param state up or away
   * @param kind embedded or given
   * @param hypertables whether samples and bins are hypertables
   * @param version what the server says it is; null while it is away
   * @param message one line for people: what it is, or what is wrong
   */
  record DatabaseView(
      String state, String kind, boolean hypertables, String version, String message) {
    static DatabaseView of(DatabaseHealth found) {
      return new DatabaseView(
          found.ok() ? "up" : "away",
          found.kind(),
          found.hypertables(),
          found.serverVersion(),
          found.message());
    }
  }

  /**
   * The whole answer.
   *
   * @param status ok, or trouble where the service answers but the rack is not read
   * @param mode writes, or reads where another service writes
   * @param writer that other one; null where this one writes, or nobody does
   * @param trouble what keeps the rack's samples from being read or stored; null where nothing does
   */
  record Health(
      String status,
      String mode,
      String writer,
      DatabaseView database,
      long trackersHeard,
      String trouble) {}

  private void health(Context ctx) {
    Form.requireJson(ctx);
    DatabaseHealth found = database.health();
    Optional<String> step = standing.step();
    Optional<Standing.Trouble> trouble = standing.trouble();
    if (step.isPresent()) {
      String detail = "The service is starting: " + step.get() + ".";
      unwell(ctx, Problem.of(Problem.Kind.STARTING, detail), found, null);
    } else if (!found.ok()) {
      Long sinceUs = trouble.map(Standing.Trouble::sinceUs).orElse(null);
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
    boolean reads = standing.isReadOnly();
    String writer = reads ? writer() : null;
    String trouble =
        reads && writer == null
            ? "No service writes to the database, so nothing new is stored or shown."
            : reading.get().orElse(null);
    String status = trouble == null ? "ok" : "trouble";
    String mode = reads ? "reads" : "writes";
    Answers.json(ctx, new Health(status, mode, writer, DatabaseView.of(found), heard(), trouble));
  }

  private String writer() {
    try {
      return standing.writer().map(Writer::words).orElse(null);
    } catch (StoreException e) {
      return "not known: " + e.getMessage();
    }
  }

  private void unwell(Context ctx, Problem problem, DatabaseHealth found, Long sinceUs) {
    Map<String, Object> more = new LinkedHashMap<>();
    more.put("database", DatabaseView.of(found));
    more.put("trackers_heard", heard());
    more.put("since", sinceUs == null ? null : Times.text(sinceUs));
    ctx.header("Retry-After", problem.type().endsWith("starting") ? "2" : "5");
    Problems.write(ctx, problem.status(), problem.with(more));
  }

  private long heard() {
    return watch.readiness().stream().filter(v -> v.state() != State.SILENT).count();
  }
}
