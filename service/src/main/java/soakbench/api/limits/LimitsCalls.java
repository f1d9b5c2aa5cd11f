package soakbench.api.limits;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.function.UnaryOperator;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Routes;
import soakbench.api.soaks.SoakCalls;
import soakbench.live.EventClock;
import soakbench.live.LimitsOutcome;
import soakbench.live.watch.SoakWatch;
import soakbench.model.LimitDifference;
import soakbench.model.Limits;
import soakbench.model.LimitsChange;
import soakbench.model.NearestName;
import soakbench.model.SoakTerms;
import soakbench.model.TauPrior;
import soakbench.store.SoakArchive;

/** The limits in force, their history, and their change. */
public final class LimitsCalls {
  private static final int LONGEST_HISTORY = 1_000;
  private static final Set<String> PARAMETERS = Set.of("dry_run", "now");

  private static final String FILE_COMES_BACK =
      "The service was started with a limits file, which takes effect again at the next start."
          + " Change the file too, or start without it.";

  private final SoakWatch watch;
  private final SoakArchive archive;
  private final EventClock clock;

  /**
   * @param clock dates limits that are in no history yet
   */
  public LimitsCalls(SoakWatch watch, SoakArchive archive, EventClock clock) {
    this.watch = watch;
    this.archive = archive;
    this.clock = clock;
  }

  public void addTo(Routes routes) {
    routes
        .json("/api/limits", this::inForce)
        .put("/api/limits", Routes.json(this::change))
        .json("/api/soaks/{soak}/limits", this::ofSoak);
  }

  /**
   * One entry of the history.
   *
   * @param differences what was other before; of the oldest entry, what differs from the defaults
   */
  record Entry(long sinceUs, LimitsChange.Origin origin, List<LimitDifference> differences) {}

  record InForce(
      Limits limits, long sinceUs, LimitsChange.Origin origin, List<Entry> history, String next) {}

  /**
   * What a change did, or would have done.
   *
   * @param sinceUs since when the limits hold; null for a dry run
   * @param judgedAgain soaks under way that were judged again
   * @param note what else there is to know; null where there is nothing
   */
  record Changed(
      boolean dryRun,
      boolean now,
      Limits limits,
      Long sinceUs,
      List<LimitDifference> differences,
      List<String> judgedAgain,
      String note) {}

  private InForce inForce(Context ctx) {
    List<LimitsChange> newestFirst = archive.limitsHistory(LONGEST_HISTORY + 1);
    if (newestFirst.isEmpty()) {
      return unwritten();
    }
    LimitsChange newest = newestFirst.get(0);
    return new InForce(
        newest.limits(), newest.sinceUs(), newest.origin(), history(newestFirst), null);
  }

  /** Nobody has written to the database yet: whoever reads it alone has limits all the same. */
  private InForce unwritten() {
    Limits limits = watch.limits();
    LimitsChange.Origin origin =
        limits.equals(Limits.DEFAULT) ? LimitsChange.Origin.DEFAULTS : LimitsChange.Origin.FILE;
    return new InForce(limits, clock.nowUs(), origin, List.of(), null);
  }

  private static List<Entry> history(List<LimitsChange> newestFirst) {
    List<Entry> entries = new ArrayList<>();
    for (int i = 0; i < Math.min(newestFirst.size(), LONGEST_HISTORY); i++) {
      LimitsChange entry = newestFirst.get(i);
      boolean oldest = i == newestFirst.size() - 1;
      Limits before = oldest ? Limits.DEFAULT : newestFirst.get(i + 1).limits();
      entries.add(
          new Entry(
              entry.sinceUs(), entry.origin(), LimitDifference.between(before, entry.limits())));
    }
    return entries;
  }

  /** What a soak is judged by. */
  record Own(String soak, Limits limits, TauPrior tauPrior) {}

  private Own ofSoak(Context ctx) {
    String soak = SoakCalls.find(archive, ctx).id();
    SoakTerms terms = archive.terms(soak).orElseThrow(LimitsCalls::starting);
    return new Own(soak, terms.limits(), terms.tauPrior());
  }

  /** Nothing is known before the first start is done. */
  private static ProblemException starting() {
    return new ProblemException(
        Problem.Kind.BUSY, "The service is still starting; ask again in some seconds.");
  }

  private Changed change(Context ctx) {
    refuseUnknown(ctx);
    boolean dryRun = QueryParameters.flag(ctx, "dry_run");
    boolean now = QueryParameters.flag(ctx, "now");
    UnaryOperator<Limits> given =
        LimitsBody.read(ctx, "The limits were not changed. Mend what is listed.");
    LimitsOutcome done = watch.change(given, now, dryRun);
    List<LimitDifference> changed = LimitDifference.between(done.before(), done.after());
    String note = note(done, !changed.isEmpty());
    return new Changed(
        dryRun, now, done.after(), done.sinceUs(), changed, done.judgedAgain(), note);
  }

  private String note(LimitsOutcome done, boolean changed) {
    String file = changed && watch.givenLimits() ? FILE_COMES_BACK : "";
    String others =
        done.elsewhere().isEmpty()
            ? ""
            : "Those that write for other racks judge theirs again as well: "
                + String.join(", ", done.elsewhere())
                + ".";
    String note = (file + " " + others).strip();
    return note.isEmpty() ? null : note;
  }

  /** A misspelt dry_run must not change anything. */
  private static void refuseUnknown(Context ctx) {
    for (String name : ctx.queryParamMap().keySet()) {
      if (!PARAMETERS.contains(name)) {
        String hint = NearestName.hint(name, PARAMETERS);
        throw QueryParameters.invalid(
            name,
            "There is no parameter "
                + name
                + (hint.isEmpty() ? "; this call takes dry_run and now." : hint));
      }
    }
  }
}
