package soakbench.api;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import soakbench.live.DerivingState;
import soakbench.live.LiveVerdicts;
import soakbench.model.State;
import soakbench.store.Database;
import soakbench.store.DatabaseHealth;

/** Whether the service can do its work. */
final class HealthCalls {
  static final String PATH = "/health";

  private final Database database;
  private final LiveVerdicts live;
  private final Supplier<Optional<String>> reading;
  private final Supplier<DerivingState> deriving;

  /**
   * @param reading what keeps the rack's samples from being read or stored, in a sentence
   * @param deriving how it goes with figures and calibrations
   */
  HealthCalls(
      Database database,
      LiveVerdicts live,
      Supplier<Optional<String>> reading,
      Supplier<DerivingState> deriving) {
    this.database = database;
    this.live = live;
    this.reading = reading;
    this.deriving = deriving;
  }

  void addTo(Routes routes) {
    routes.get(PATH, this::health);
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
      String state, String kind, boolean hypertables, String version, String message) {}

  /**
   * The whole answer.
   *
   * @param status ok, or trouble where the service answers but the rack is not read, or figures of
   *     some soaks are not derived
   * @param trouble what keeps the rack's samples from being read or stored; null where nothing does
   * @param figures how it goes with figures and calibrations
   */
  record Health(
      String status,
      DatabaseView database,
      long trackersHeard,
      String trouble,
      FiguresHealth figures) {}

  /** What somebody without the token is told. */
  record Brief(String status) {}

  private void health(Context ctx) {
    Form.requireJson(ctx);
    DatabaseHealth found = database.health();
    DatabaseView view =
        new DatabaseView(
            found.ok() ? "up" : "away",
            found.kind(),
            found.hypertables(),
            found.serverVersion(),
            found.message());
    long heard = live.readiness().stream().filter(v -> v.state() != State.SILENT).count();
    FiguresHealth figures = FiguresHealth.of(deriving.get());
    if (found.ok()) {
      String trouble = reading.get().orElse(null);
      String status = trouble == null && figures.ok() ? "ok" : "trouble";
      Answers.json(
          ctx,
          AccessGuard.isStranger(ctx)
              ? new Brief(status)
              : new Health(status, view, heard, trouble, figures));
      return;
    }
    ctx.header("Retry-After", "5");
    if (AccessGuard.isStranger(ctx)) {
      Problems.write(
          ctx, Problem.of(Problem.Kind.STORE_UNAVAILABLE, "The database can't be used now."));
      return;
    }
    Map<String, Object> more = new LinkedHashMap<>();
    more.put("database", view);
    more.put("trackers_heard", heard);
    more.put("figures", figures);
    Problem problem = Problem.of(Problem.Kind.STORE_UNAVAILABLE, found.message());
    Problems.write(ctx, problem.status(), problem.with(more));
  }
}
