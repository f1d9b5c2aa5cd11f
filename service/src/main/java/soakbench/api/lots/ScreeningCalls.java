package soakbench.api.lots;

import io.javalin.http.Context;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.function.Supplier;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerNames;
import soakbench.lots.compare.Lot;
import soakbench.lots.compare.LotLimits;
import soakbench.lots.compare.LotUnit;
import soakbench.lots.compare.Metrics;
import soakbench.lots.compare.Screening;
import soakbench.lots.compare.ScreeningLimit;
import soakbench.model.Limits;
import soakbench.store.Database;
import soakbench.store.ScreeningLimits;

/** Limits by which units are screened, and what others would make of a lot. */
public final class ScreeningCalls {
  private static final String KEPT =
      "The limits for screening were not changed. Mend what is listed.";
  private static final String NOT_SCREENED = "Nothing was screened. Mend what is listed.";

  private final LotSource source;
  private final ScreeningLimits stored;
  private final Supplier<Limits> inForce;

  /**
   * @param inForce what counts as ready, as that stands now
   */
  public ScreeningCalls(Database database, TrackerNames names, Supplier<Limits> inForce) {
    this.inForce = inForce;
    this.source = new LotSource(database, names, ZoneId.systemDefault());
    this.stored = database.screeningLimits();
  }

  public void addTo(Routes routes) {
    routes
        .json("/api/screening-limits", ctx -> answer(stored.all()))
        .put("/api/screening-limits", Routes.json(this::replace))
        .post("/api/lots/{lot}/screening-preview", Routes.json(this::preview), LotParameters.AT_C);
  }

  private static final Table<ScreeningLimit> LIMITS =
      new Table<ScreeningLimit>()
          .member("metric", ScreeningLimit::metric)
          .member(
              "unit",
              l ->
                  Metrics.byName().containsKey(l.metric())
                      ? Metrics.byName().get(l.metric()).unit()
                      : null)
          .member("look_again_over", ScreeningLimit::lookAgainOver)
          .member("reject_over", ScreeningLimit::rejectOver);

  /** Limits as they are answered. */
  record Listed(List<?> screeningLimits) {}

  private static Listed answer(List<ScreeningLimit> limits) {
    return new Listed(LIMITS.json(limits));
  }

  private Listed replace(Context ctx) {
    List<ScreeningLimit> limits = ScreeningBody.read(ctx, KEPT);
    stored.replace(limits);
    return answer(limits);
  }

  /** A unit as these limits judge it, and as those in force do. */
  private record Unit(LotUnit unit, Screening screening, Screening now) {
    boolean isTold() {
      return screening.verdict() != Screening.Verdict.ACCEPT
          || screening.verdict() != now.verdict();
    }
  }

  private static final Table<Unit> UNITS =
      new Table<Unit>()
          .member("tracker", u -> u.unit.tracker())
          .member("name", u -> u.unit.listed().name())
          .member("screening", Unit::screening, LotTables.SCREENING)
          .member("screening_now", Unit::now, LotTables.SCREENING);

  /**
   * What limits would make of a lot.
   *
   * @param verdicts under these limits
   * @param verdictsNow under those in force
   * @param units that are not accepted, or judged otherwise than now; worst first
   * @param misfitsReason why nobody was tested for not fitting the lot; null where all were
   */
  record Preview(
      String lot,
      List<?> screeningLimits,
      Screening.Summary verdicts,
      Screening.Summary verdictsNow,
      List<?> units,
      String misfitsReason) {}

  private Preview preview(Context ctx) {
    Double atC = QueryParameters.celsius(ctx, LotParameters.AT_C);
    Lot lot = source.named(ctx.pathParam("lot"), atC);
    List<ScreeningLimit> limits = ScreeningBody.read(ctx, NOT_SCREENED);
    Map<String, Screening> then = Screening.of(lot, LotLimits.of(inForce.get(), limits));
    Map<String, Screening> now = Screening.of(lot, LotLimits.of(inForce.get(), stored.all()));
    List<Unit> told = new ArrayList<>();
    for (LotUnit unit : lot.units()) {
      Unit one = new Unit(unit, then.get(unit.tracker()), now.get(unit.tracker()));
      if (one.isTold()) {
        told.add(one);
      }
    }
    told.sort((a, b) -> b.screening.verdict().compareTo(a.screening.verdict()));
    return new Preview(
        lot.name(),
        LIMITS.json(limits),
        Screening.Summary.of(then.values()),
        Screening.Summary.of(now.values()),
        UNITS.json(told),
        Screening.untested(lot));
  }
}
