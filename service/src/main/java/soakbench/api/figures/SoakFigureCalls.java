package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.List;
import soakbench.api.figures.KeptAnalyses.Analysis;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.soaks.SoakCalls;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.heading.Heading;
import soakbench.drift.heading.HeadingAsk;
import soakbench.drift.heading.UseProfile;
import soakbench.live.deriving.SoakDrift;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;
import soakbench.store.SoakArchive;

/** The analysis of one soak, from its bins as they are now. */
public final class SoakFigureCalls {
  private static final long US_PER_S = 1_000_000L;
  private static final String[] CURVE = {"order", "low_c", "high_c", "points", "second_soak"};

  private final SoakArchive archive;
  private final SoakWatch watch;
  private final MarkTemperature marks;
  private final KeptAnalyses analyses;

  public SoakFigureCalls(SoakArchive archive, SoakWatch watch, MarkTemperature marks) {
    this.archive = archive;
    this.watch = watch;
    this.marks = marks;
    this.analyses = new KeptAnalyses(archive, this::bins, KeptAnalyses.MOST_SECONDS);
  }

  public void addTo(Routes routes) {
    routes
        .json("/api/soaks/{soak}/warm-up", ctx -> analysis(ctx).ground().warmUp())
        .table("/api/soaks/{soak}/bias-curve", this::biasCurve, CURVE)
        .get("/api/soaks/{soak}/bias-curve.h", this::header, "order", "points")
        .json("/api/soaks/{soak}/noise", ctx -> analysis(ctx).drift().noise())
        .json("/api/soaks/{soak}/heading", this::heading, "from_c", "mark", "use_c", "profile");
  }

  private Analysis analysis(Context ctx) {
    return analysis(SoakCalls.find(archive, ctx));
  }

  private Analysis analysis(Soak soak) {
    return analyses.of(soak, limits(soak).useTemperatureC(), declared(soak));
  }

  private void biasCurve(Context ctx, ResponseFormat form) {
    Soak soak = SoakCalls.find(archive, ctx);
    BiasCurve curve = curve(soak, ask(ctx, soak));
    CurveExport.table(ctx, form, curve);
  }

  private void header(Context ctx) {
    Soak soak = SoakCalls.find(archive, ctx);
    int points = CurveExport.points(ctx);
    CurveAsk ask =
        new CurveAsk(limits(soak).useTemperatureC(), order(ctx), null, null, CurveAsk.POINTS, null);
    BiasCurve curve = curve(soak, ask);
    String from = "soak " + soak.id();
    CurveExport.header(ctx, soak.tracker(), from, curve, points);
  }

  private Heading heading(Context ctx) {
    Soak soak = SoakCalls.find(archive, ctx);
    Double markC = marks.ofRequest(ctx, soak.tracker());
    Double fromC = markC == null ? QueryParameters.celsius(ctx, "from_c") : markC;
    Double useC = QueryParameters.celsius(ctx, "use_c");
    Soak use = other(ctx, "profile");
    if (use != null && useC != null) {
      throw QueryParameters.invalid(
          "profile", "profile and use_c exclude each other; leave one out.");
    }
    double aboutC = limits(soak).useTemperatureC();
    SoakDrift drift = drift(soak, useC == null ? aboutC : useC);
    return drift.heading(
        new HeadingAsk(
            fromC == null ? drift.newestC() : fromC,
            useC == null ? aboutC : useC,
            use == null ? null : UseProfile.of(use.id(), bins(use))));
  }

  private CurveAsk ask(Context ctx, Soak soak) {
    Double[] rangeC = CurveExport.rangeC(ctx);
    Soak second = other(ctx, "second_soak");
    if (second != null && !second.tracker().equals(soak.tracker())) {
      throw QueryParameters.invalid(
          "second_soak",
          "second_soak=%s is a soak of %s; name another one of %s."
              .formatted(second.id(), second.tracker(), soak.tracker()));
    }
    return new CurveAsk(
        limits(soak).useTemperatureC(),
        order(ctx),
        rangeC[0],
        rangeC[1],
        CurveExport.points(ctx),
        second == null || second.id().equals(soak.id()) ? null : StillSoak.of(bins(second)));
  }

  private static Integer order(Context ctx) {
    int order = QueryParameters.count(ctx, "order", 0, CurveAsk.MOST_ORDER);
    return order == 0 ? null : order;
  }

  /** The soak that a parameter names, or null where it is not there. */
  private Soak other(Context ctx, String parameter) {
    String id = QueryParameters.text(ctx, parameter);
    if (id == null) {
      return null;
    }
    return archive
        .soak(id)
        .orElseThrow(
            () ->
                QueryParameters.invalid(
                    parameter, parameter + "=" + id + " is no soak. GET /api/soaks lists them."));
  }

  private BiasCurve curve(Soak soak, CurveAsk ask) {
    Analysis analysis = analysis(soak);
    return analysis.ground().curve(ask, analysis.declared()).curve();
  }

  private SoakDrift drift(Soak soak, double useC) {
    Analysis analysis = analysis(soak);
    return useC == analysis.useC()
        ? analysis.drift()
        : SoakDrift.of(analysis.ground(), CurveAsk.at(useC), analysis.declared());
  }

  private List<Bin> bins(Soak soak) {
    return archive.bins(
        soak.tracker(),
        Math.floorDiv(soak.startUs(), US_PER_S),
        Math.floorDiv(soak.endUs(), US_PER_S) + 1);
  }

  /** A soak of before terms were kept has none until the first start that knows them is done. */
  private Limits limits(Soak soak) {
    return archive.terms(soak.id()).map(SoakTerms::limits).orElseGet(watch::limits);
  }

  private Rates declared(Soak soak) {
    return watch.rosterRates().of(soak.tracker());
  }
}
