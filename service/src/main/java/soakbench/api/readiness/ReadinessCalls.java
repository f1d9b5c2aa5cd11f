package soakbench.api.readiness;

import io.javalin.http.Context;
import java.util.Comparator;
import java.util.List;
import java.util.function.Predicate;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.live.calibration.NewestCalibrations;
import soakbench.model.Tracker;
import soakbench.readiness.Readiness;

/** Verdicts now. */
public final class ReadinessCalls {
  private final LiveVerdicts live;
  private final TrackerNames names;
  private final Table<Readiness> table;
  private final ReadinessOrder order;
  private final Predicate<String> known;

  public ReadinessCalls(
      LiveVerdicts live,
      TrackerNames names,
      NewestCalibrations marks,
      ReadinessOrder order,
      Predicate<String> known) {
    this.live = live;
    this.names = names;
    this.order = order;
    this.table = ReadinessTable.of(names::of, marks, order);
    this.known = known;
  }

  public void addTo(Routes routes) {
    routes
        .table(
            "/api/readiness", this::all, TrackerFilter.LOT, TrackerFilter.RACK, TrackerFilter.SINCE)
        .json("/api/trackers/{id}/readiness", this::one);
  }

  private void all(Context ctx, ResponseFormat form) {
    TrackerFilter which = TrackerFilter.of(ctx);
    List<Readiness> shown = live.readiness();
    order.look(shown);
    List<Readiness> verdicts =
        shown.stream()
            .filter(v -> which.hasTracker(v.tracker(), names) && which.hasTime(v.asOfUs()))
            .sorted(Comparator.comparing(Readiness::tracker))
            .toList();
    table.answer(ctx, form, "trackers", verdicts);
  }

  private Object one(Context ctx) {
    String id = ctx.pathParam("id");
    order.look();
    return live.readiness(id)
        .map(table::json)
        .orElseThrow(() -> Tracker.isId(id) && known.test(id) ? notSoaking(id) : unknown(id));
  }

  private static ProblemException unknown(String id) {
    return new ProblemException(
        Problem.Kind.UNKNOWN_TRACKER,
        ("Tracker %s was never heard and is not in the roster. GET /api/readiness lists those that"
                + " soak now; ids are compared letter by letter.")
            .formatted(id));
  }

  private static ProblemException notSoaking(String id) {
    return new ProblemException(
        Problem.Kind.NOT_SOAKING,
        ("%s is known but has no open soak: nothing has been heard from it since its last soak"
                + " ended. Switch it on; its past soaks are at /api/soaks?tracker=%s.")
            .formatted(id, id));
  }
}
