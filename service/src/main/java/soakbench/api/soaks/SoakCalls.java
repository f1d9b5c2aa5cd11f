package soakbench.api.soaks;

import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ReasonBody;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.Times;
import soakbench.api.http.TrackerNames;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Soak;
import soakbench.model.StateChange;
import soakbench.store.Database;
import soakbench.store.LeftOutSoaks;
import soakbench.store.SoakArchive;

/** Soaks, their timelines, their end, and whether they count in the figures. */
public final class SoakCalls {
  private static final int PAGE = 100;
  private static final int LONGEST_PAGE = 1_000;
  private static final String LEAVE_OUT = "{\"reason\":\"the blanket had slipped\"}";

  private final SoakArchive archive;
  private final SoakWatch watch;
  private final LeftOutSoaks leftOut;
  private final Table<SoakTable.Row> table;

  public SoakCalls(Database database, SoakWatch watch, TrackerNames names) {
    this.archive = database.archive();
    this.leftOut = database.leftOut();
    this.watch = watch;
    this.table = SoakTable.of(names);
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/soaks", this::all, SoakPages.PARAMETERS)
        .json("/api/soaks/{soak}", ctx -> shown(find(archive, ctx)))
        .post("/api/soaks/{soak}/end", Routes.json(this::end))
        .post("/api/soaks/{soak}/leave-out", Routes.json(this::leaveOut))
        .delete("/api/soaks/{soak}/leave-out", this::takeIn)
        .table("/api/soaks/{soak}/timeline", this::timeline);
  }

  record Timeline(String soak, List<StateChange> timeline, String next) {}

  private static final Table<StateChange> TIMELINE =
      new Table<StateChange>()
          .time("time", StateChange::timeUs)
          .column("state", StateChange::state)
          .column("revised", StateChange::revised);

  /**
   * The soak of this address, also by an id that it had before late samples moved its start.
   *
   * @throws ProblemException 404 if there is none
   */
  public static Soak find(SoakArchive archive, Context ctx) {
    String id = ctx.pathParam("soak");
    return archive
        .soak(id)
        .or(() -> archive.soakOnceNamed(id))
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.UNKNOWN_SOAK,
                    "No soak " + id + " is stored. GET /api/soaks lists them."));
  }

  private Object shown(Soak soak) {
    return table.json(new SoakTable.Row(soak, leftOut.reasons().get(soak.id())));
  }

  private void all(Context ctx, ResponseFormat form) {
    int limit = QueryParameters.count(ctx, "limit", PAGE, LONGEST_PAGE);
    List<Soak> found = archive.soaks(SoakPages.query(ctx, archive, limit + 1));
    List<Soak> page = found.subList(0, Math.min(limit, found.size()));
    String next = found.size() > limit ? SoakPages.next(ctx, page.get(limit - 1).id()) : null;
    Map<String, String> reasons = leftOut.reasons();
    List<SoakTable.Row> rows =
        page.stream().map(s -> new SoakTable.Row(s, reasons.get(s.id()))).toList();
    table.answer(ctx, form, "soaks", rows, next, Map.of());
  }

  private Object end(Context ctx) {
    Soak soak = find(archive, ctx);
    return watch
        .end(soak.id())
        .map(this::shown)
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.SOAK_ENDED,
                    "Soak " + soak.id() + " ended at " + Times.text(soak.endUs()) + " already."));
  }

  private Object leaveOut(Context ctx) {
    Soak soak = find(archive, ctx);
    String reason = ReasonBody.read(ctx, LEAVE_OUT).reason("why the soak does not count");
    leftOut.put(soak, reason);
    watch.readEarlier();
    return table.json(new SoakTable.Row(soak, reason));
  }

  private void takeIn(Context ctx) {
    leftOut.remove(find(archive, ctx));
    watch.readEarlier();
    ctx.status(204);
  }

  private void timeline(Context ctx, ResponseFormat form) {
    String soak = find(archive, ctx).id();
    List<StateChange> timeline = archive.timeline(soak);
    if (form == ResponseFormat.CSV) {
      TIMELINE.csv(ctx, timeline);
    } else {
      JsonResponses.tagged(ctx, new Timeline(soak, timeline, null));
    }
  }
}
