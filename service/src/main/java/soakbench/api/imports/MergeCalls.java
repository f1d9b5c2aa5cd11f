package soakbench.api.imports;

import io.javalin.http.Context;
import java.util.Optional;
import soakbench.api.access.OtherRacks;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ReasonBody;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.live.SoakStore.Moved;
import soakbench.live.watch.Merging;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Tracker;
import soakbench.store.Database;
import soakbench.store.Merges;
import soakbench.store.SoakArchive;
import soakbench.store.TrackerMerge;

/** Gives what was recorded under a wrong id to the tracker that it is of. */
public final class MergeCalls {
  private static final int PAGE = 100;
  private static final int LONGEST_PAGE = 1_000;
  private static final String INTO = "into";
  private static final String EXAMPLE =
      "{\"into\":\"T-0412\",\"reason\":\"the label was misread\"}";

  private static final Table<TrackerMerge> TABLE =
      new Table<TrackerMerge>()
          .column("merge", TrackerMerge::id)
          .time("merged_at", TrackerMerge::atUs)
          .column("tracker", TrackerMerge::tracker)
          .column(INTO, TrackerMerge::into)
          .column("sent_from", TrackerMerge::address)
          .column("reason", TrackerMerge::reason)
          .column("samples", TrackerMerge::samples)
          .column("aside", TrackerMerge::aside)
          .column("complete", TrackerMerge::done);

  private final Merges merges;
  private final SoakArchive archive;
  private final SoakWatch watch;
  private final OtherRacks others;

  /**
   * @param others says who writes for trackers for which this service does not
   */
  public MergeCalls(Database database, SoakWatch watch, OtherRacks others) {
    this.others = others;
    this.merges = database.merges();
    this.archive = database.archive();
    this.watch = watch;
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/merges", this::all, "limit")
        .post("/api/trackers/{id}/merge", Routes.json(this::merge));
  }

  private void all(Context ctx, ResponseFormat form) {
    int limit = QueryParameters.count(ctx, "limit", PAGE, LONGEST_PAGE);
    TABLE.answer(ctx, form, "merges", merges.newest(limit));
  }

  private Object merge(Context ctx) {
    String tracker = ctx.pathParam("id");
    if (!archive.trackers().contains(tracker)) {
      throw new ProblemException(
          Problem.Kind.UNKNOWN_TRACKER,
          tracker + " was never heard, and the roster does not list it.");
    }
    ReasonBody body = ReasonBody.read(ctx, EXAMPLE, INTO);
    String into = body.text(INTO);
    if (!Tracker.isId(into)) {
      body.wrong(INTO, "It must be the tracker's right id: " + Tracker.ID_RULE + ".");
    } else if (into.equals(tracker)) {
      body.wrong(INTO, "It is the same tracker.");
    }
    String reason = body.reason("why the id was wrong");
    String refusal = others.refusal(into);
    if (refusal != null) {
      throw new ProblemException(
          Problem.Kind.OTHER_RACK,
          refusal + " Put both ids on the same rack in the roster first, and merge them there.");
    }
    Merging merging = begin(tracker, into);
    long id = merges.begin(tracker, into, ctx.ip(), reason);
    Optional<Moved> moved = watch.mergeNext(merging);
    while (moved.isPresent()) {
      merges.add(id, moved.get().moved(), moved.get().aside());
      moved = watch.mergeNext(merging);
    }
    merges.end(merges.find(id).orElseThrow());
    watch.readEarlier();
    return TABLE.json(merges.find(id).orElseThrow());
  }

  private Merging begin(String tracker, String into) {
    return watch
        .merge(tracker, into)
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.TRACKER_LIVE,
                    tracker
                        + " is being heard now: give it its right id first, wait ten minutes, and"
                        + " merge what was recorded before."));
  }
}
