package soakbench.api.soaks;

import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.Times;
import soakbench.api.http.TrackerNames;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Soak;
import soakbench.model.StateChange;
import soakbench.store.SoakArchive;

/** Soaks, their timelines, and their end. */
public final class SoakCalls {
  private static final int PAGE = 100;
  private static final int LONGEST_PAGE = 1_000;

  private final SoakArchive archive;
  private final SoakWatch watch;
  private final Table<Soak> table;

  public SoakCalls(SoakArchive archive, SoakWatch watch, TrackerNames names) {
    this.archive = archive;
    this.watch = watch;
    this.table = SoakTable.of(names);
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/soaks", this::all, SoakPages.PARAMETERS)
        .json("/api/soaks/{soak}", ctx -> table.json(find(archive, ctx)))
        .post("/api/soaks/{soak}/end", Routes.json(this::end))
        .table("/api/soaks/{soak}/timeline", this::timeline);
  }

  record Timeline(String soak, List<StateChange> timeline, String next) {}

  private static final Table<StateChange> TIMELINE =
      new Table<StateChange>()
          .time("time", StateChange::timeUs)
          .column("state", StateChange::state)
          .column("revised", StateChange::revised);

  /**
   * The soak of this address.
   *
   * @throws ProblemException 404 if there is none
   */
  public static Soak find(SoakArchive archive, Context ctx) {
    String id = ctx.pathParam("soak");
    return archive
        .soak(id)
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.UNKNOWN_SOAK,
                    "No soak " + id + " is stored. GET /api/soaks lists them."));
  }

  private void all(Context ctx, ResponseFormat form) {
    int limit = QueryParameters.count(ctx, "limit", PAGE, LONGEST_PAGE);
    List<Soak> found = archive.soaks(SoakPages.query(ctx, archive, limit + 1));
    List<Soak> page = found.subList(0, Math.min(limit, found.size()));
    String next = found.size() > limit ? SoakPages.next(ctx, page.get(limit - 1).id()) : null;
    table.answer(ctx, form, "soaks", page, next, Map.of());
  }

  private Object end(Context ctx) {
    Soak soak = find(archive, ctx);
    return watch
        .end(soak.id())
        .map(table::json)
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.SOAK_ENDED,
                    "Soak " + soak.id() + " ended at " + Times.text(soak.endUs()) + " already."));
  }

  private void timeline(Context ctx, ResponseFormat form) {
    String soak = find(archive, ctx).id();
    List<StateChange> timeline = archive.timeline(soak);
    if (form == ResponseFormat.CSV) {
      TIMELINE.csv(ctx, timeline::forEach);
    } else {
      JsonResponses.json(ctx, new Timeline(soak, timeline, null));
    }
  }
}
