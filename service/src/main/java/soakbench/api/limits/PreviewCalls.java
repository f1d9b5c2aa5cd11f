package soakbench.api.limits;

import io.javalin.http.Context;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.concurrent.Semaphore;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.api.soaks.SoakPages;
import soakbench.live.watch.SoakWatch;
import soakbench.model.LimitDifference;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.store.SoakArchive;

/** What other limits would have made of past soaks. */
public final class PreviewCalls {
  private static final int PAGE = 20;
  private static final int LONGEST_PAGE = 200;

  /** Less than the time after which a silent connection is closed. */
  private static final Duration LONGEST = Duration.ofSeconds(15);

  private static final String GO_ON = "; send the same to the address in next";
  private static final String TIME_IS_UP =
      "the " + LONGEST.toSeconds() + " s for one answer were up" + GO_ON;

  private final SoakArchive archive;
  private final SoakWatch watch;
  private final TrackerNames names;
  private final Table<PreviewRow> table;

  /** One at a time: the rack's own judging goes on beside it. */
  private final Semaphore free = new Semaphore(1);

  public PreviewCalls(SoakArchive archive, SoakWatch watch, TrackerNames names) {
    this.archive = archive;
    this.watch = watch;
    this.names = names;
    this.table = PreviewRow.table(names);
  }

  public void addTo(Routes routes) {
    routes
        .post("/api/limits/preview", this::preview, Routes.ofTables(SoakPages.PARAMETERS))
        .post("/api/limits/preview.csv", this::preview, Routes.ofTables(SoakPages.PARAMETERS));
  }

  /**
   * The whole answer.
   *
   * @param limits the proposed ones
   * @param differences what they change of those in force
   * @param soaks as {@link PreviewRow#table} gives them
   */
  record Previewed(
      Limits limits,
      List<LimitDifference> differences,
      List<?> soaks,
      PreviewSummary summary,
      String next) {}

  private void preview(Context ctx) {
    ResponseFormat form = Routes.form(ctx);
    Limits inForce = watch.limits();
    Limits proposed =
        LimitsBody.read(ctx, "No soak was judged again. Mend what is listed.").apply(inForce);
    int limit = QueryParameters.count(ctx, "limit", PAGE, LONGEST_PAGE);
    List<Soak> soaks = archive.soaks(SoakPages.query(ctx, archive, limit));
    long askedFor = archive.count(SoakPages.query(ctx, archive, limit));
    if (!free.tryAcquire()) {
      ctx.header("Retry-After", "5");
      throw new ProblemException(
          Problem.Kind.BUSY, "Another preview is being made; ask again in some seconds.");
    }
    try {
      Preview preview = new Preview(archive, names, proposed, LONGEST);
      List<PreviewRow> rows = preview.rows(soaks);
      String next = askedFor > rows.size() ? SoakPages.next(ctx, last(rows)) : null;
      String why = preview.timeIsUp() ? TIME_IS_UP : "they are more than limit=" + limit + GO_ON;
      PreviewSummary summary = PreviewSummary.of(rows, askedFor, why);
      if (form == ResponseFormat.CSV) {
        table.answer(ctx, form, "soaks", rows, next, Map.of());
      } else {
        List<LimitDifference> changed = LimitDifference.between(inForce, proposed);
        JsonResponses.json(ctx, new Previewed(proposed, changed, table.json(rows), summary, next));
      }
    } finally {
      free.release();
    }
  }

  private static String last(List<PreviewRow> rows) {
    return rows.get(rows.size() - 1).soak().id();
  }
}
