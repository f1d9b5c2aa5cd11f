package soakbench.api.soaks;

import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.model.BinSpan;
import soakbench.model.Tracker;
import soakbench.store.SoakArchive;
import soakbench.store.SoakQuery;

/** What a tracker read over all its soaks, for a chart over months. */
public final class HistoryCalls {
  private static final long US_PER_S = 1_000_000L;
  private static final int POINTS = 1_000;
  private static final int MOST_POINTS = 10_000;

  /** The year 9999: later than any bin. */
  private static final long FAR_AWAY_S = 253_402_300_799L;

  private final SoakArchive archive;

  public HistoryCalls(SoakArchive archive) {
    this.archive = archive;
  }

  public void addTo(Routes routes) {
    routes.table("/api/trackers/{id}/history", this::history, "from", "points", "to");
  }

  private void history(Context ctx, ResponseFormat form) {
    String tracker = known(ctx.pathParam("id"));
    Long fromUs = QueryParameters.timeUs(ctx, "from");
    Long toUs = QueryParameters.timeUs(ctx, "to");
    SoakDataCalls.checkOrder(fromUs, toUs);
    int points = QueryParameters.count(ctx, "points", POINTS, MOST_POINTS, 2);
    long from = fromUs == null ? -FAR_AWAY_S : Math.floorDiv(fromUs, US_PER_S);
    long to = toUs == null ? FAR_AWAY_S : Math.floorDiv(toUs - 1, US_PER_S) + 1;
    List<BinSpan> spans = archive.history(tracker, from, to, points);
    BinTable.spans().answer(ctx, form, "bins", spans, null, Map.of("tracker", tracker));
  }

  private String known(String id) {
    SoakQuery any = new SoakQuery(id, null, null, null, null, null, 1);
    if (Tracker.isId(id) && !archive.soaks(any).isEmpty()) {
      return id;
    }
    throw new ProblemException(
        Problem.Kind.UNKNOWN_TRACKER,
        "Tracker " + id + " never had a soak. GET /api/soaks lists the soaks.");
  }
}
