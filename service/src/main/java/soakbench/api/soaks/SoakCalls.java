package soakbench.api.soaks;

import io.javalin.http.Context;
import java.util.List;
import soakbench.api.http.AnswerForm;
import soakbench.api.http.Answers;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.Queries;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.Times;
import soakbench.api.http.TrackerNames;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Soak;
import soakbench.model.StateChange;
import soakbench.store.Recordings;

/** Soaks, what was said of them, and their end. */
public final class SoakCalls {
  private static final int PAGE = 100;
  private static final int LONGEST_PAGE = 1_000;

  private final Recordings recordings;
  private final SoakWatch watch;
  private final TrackerNames names;

  public SoakCalls(Recordings recordings, SoakWatch watch, TrackerNames names) {
    this.recordings = recordings;
    this.watch = watch;
    this.names = names;
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/soaks", this::all, SoakPages.PARAMETERS)
        .get("/api/soaks/{soak}", this::one)
        .post("/api/soaks/{soak}/end", this::end)
        .table("/api/soaks/{soak}/timeline", this::timeline);
  }

  record Soaks(List<SoakView> soaks, String next) {}

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
  public static Soak find(Recordings recordings, Context ctx) {
    String id = ctx.pathParam("soak");
    return recordings
        .soak(id)
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.UNKNOWN_SOAK,
                    "No soak " + id + " is stored. GET /api/soaks lists them."));
  }

  private void all(Context ctx) {
    AnswerForm form = AnswerForm.wanted(ctx);
    int limit = Queries.count(ctx, "limit", PAGE, LONGEST_PAGE);
    List<Soak> found = recordings.soaks(SoakPages.query(ctx, recordings, limit + 1));
    List<Soak> page = found.subList(0, Math.min(limit, found.size()));
    String next = found.size() > limit ? SoakPages.next(ctx, page.get(limit - 1).id()) : null;
    List<SoakView> views = page.stream().map(s -> SoakView.of(s, names)).toList();
    if (form == AnswerForm.CSV) {
      if (next != null) {
        ctx.header("Link", "<" + next + ">; rel=\"next\"");
      }
      SoakView.TABLE.answer(ctx, views);
    } else {
      Answers.json(ctx, new Soaks(views, next));
    }
  }

  private void one(Context ctx) {
    AnswerForm.requireJson(ctx);
    Answers.json(ctx, SoakView.of(find(recordings, ctx), names));
  }

  private void end(Context ctx) {
    AnswerForm.requireJson(ctx);
    Soak soak = find(recordings, ctx);
    Soak ended =
        watch
            .end(soak.id())
            .orElseThrow(
                () ->
                    new ProblemException(
                        Problem.Kind.SOAK_ENDED,
                        "Soak "
                            + soak.id()
                            + " ended at "
                            + Times.text(soak.endUs())
                            + " already."));
    Answers.json(ctx, SoakView.of(ended, names));
  }

  private void timeline(Context ctx) {
    AnswerForm form = AnswerForm.wanted(ctx);
    String soak = find(recordings, ctx).id();
    List<StateChange> timeline = recordings.timeline(soak);
    if (form == AnswerForm.CSV) {
      TIMELINE.answer(ctx, timeline);
    } else {
      Answers.json(ctx, new Timeline(soak, timeline, null));
    }
  }
}
