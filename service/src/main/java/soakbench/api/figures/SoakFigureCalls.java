package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.List;
import soakbench.api.figures.KeptAnalyses.Analysis;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.soaks.SoakCalls;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;
import soakbench.drift.curve.StillSoak;
import soakbench.drift.heading.Heading;
import soakbench.drift.heading.HeadingAsk;
import soakbench.drift.heading.UseProfile;
import soakbench.drift.noise.Noise;
import soakbench.live.deriving.SoakDrift;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.store.SoakArchive;
import soakbench.thermal.WarmUpCurve;

/** The analysis of one soak, from its bins as they are now. */
public final class SoakFigureCalls {
  private static final long US_PER_S = 1_000_000L;
  private static final String[] CURVE = {"order", "low_c", "high_c", "points", "second_soak"};

  private final SoakArchive archive;
  private final FigureTerms terms;
  private final MarkTemperature marks;
  private final KeptAnalyses analyses;

  public SoakFigureCalls(SoakArchive archive, SoakWatch watch, MarkTemperature marks) {
    this.archive = archive;
    this.terms = new FigureTerms(archive, watch);
    this.marks = marks;
    this.analyses = new KeptAnalyses(archive, this::bins, KeptAnalyses.MOST_SECONDS);
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/soaks/{soak}/warm-up", this::warmUp)
        .table("/api/soaks/{soak}/bias-curve", this::biasCurve, CURVE)
        .get("/api/soaks/{soak}/bias-curve.h", this::header, "order", "points")
        .table("/api/soaks/{soak}/noise", this::noise)
        .table("/api/soaks/{soak}/heading", this::heading, "from_c", "mark", "use_c", "profile");
  }

  private Analysis analysis(Soak soak) {
    return analyses.of(soak, terms.useC(soak), terms.declared(soak));
  }

  private void warmUp(Context ctx, ResponseFormat form) {
    Soak soak = SoakCalls.find(archive, ctx);
    if (!terms.isKept(ctx, form, WarmUpRow.TABLE, soak)) {
      WarmUpCurve curve = analysis(soak).ground().warmUp();
      answer(ctx, form, curve, WarmUpRow.TABLE, List.of(new WarmUpRow(soak.id(), curve)));
    }
  }

  private void noise(Context ctx, ResponseFormat form) {
    Soak soak = SoakCalls.find(archive, ctx);
    if (!terms.isKept(ctx, form, NoiseRow.TABLE, soak)) {
      Noise noise = analysis(soak).drift().noise();
      answer(ctx, form, noise, NoiseRow.TABLE, NoiseRow.of(noise));
    }
  }

  private static <T> void answer(
      Context ctx, ResponseFormat form, Object whole, Table<T> table, List<T> rows) {
    if (form == ResponseFormat.CSV) {
      table.csv(ctx, rows::forEach);
    } else {
      JsonResponses.json(ctx, whole);
    }
  }

  private void biasCurve(Context ctx, ResponseFormat form) {
    Soak soak = SoakCalls.find(archive, ctx);
    Soak second = secondSoak(ctx, soak);
    if (!terms.isKept(ctx, form, BandRow.TABLE, soak, second)) {
      BiasCurve curve = curve(soak, ask(ctx, soak, second));
      answer(ctx, form, curve, BandRow.TABLE, BandRow.of(curve));
    }
  }

  private void header(Context ctx) {
    Soak soak = SoakCalls.find(archive, ctx);
    int points = CurveExport.points(ctx);
    CurveAsk ask = new CurveAsk(terms.useC(soak), order(ctx), null, null, CurveAsk.POINTS, null);
    BiasCurve curve = curve(soak, ask);
    String from = "soak " + soak.id();
    CurveExport.header(ctx, soak.tracker(), from, curve, points);
  }

  private void heading(Context ctx, ResponseFormat form) {
    Soak soak = SoakCalls.find(archive, ctx);
    Double markC = marks.ofRequest(ctx, soak.tracker());
    Double fromC = markC == null ? QueryParameters.celsius(ctx, "from_c") : markC;
    Double useC = QueryParameters.celsius(ctx, "use_c");
    Soak use = other(ctx, "profile");
    if (use != null && useC != null) {
      throw QueryParameters.invalid(
          "profile", "profile and use_c exclude each other; leave one out.");
    }
    if (!terms.isKept(ctx, form, HeadingRow.TABLE, soak, use, fromC)) {
      Heading heading = heading(soak, fromC, useC == null ? terms.useC(soak) : useC, use);
      List<HeadingRow> rows = List.of(new HeadingRow(soak.id(), heading));
      answer(ctx, form, heading, HeadingRow.TABLE, rows);
    }
  }

  private Heading heading(Soak soak, Double fromC, double useC, Soak use) {
    SoakDrift drift = drift(soak, useC);
    return drift.heading(
        new HeadingAsk(
            fromC == null ? drift.newestC() : fromC,
            useC,
            use == null ? null : UseProfile.of(use.id(), bins(use))));
  }

  private CurveAsk ask(Context ctx, Soak soak, Soak second) {
    Double[] rangeC = CurveExport.rangeC(ctx);
    return new CurveAsk(
        terms.useC(soak),
        order(ctx),
        rangeC[0],
        rangeC[1],
        CurveExport.points(ctx),
        second == null ? null : StillSoak.of(bins(second)));
  }

  /** Another soak of the same tracker, or null. */
  private Soak secondSoak(Context ctx, Soak soak) {
    Soak second = other(ctx, "second_soak");
    if (second != null && !second.tracker().equals(soak.tracker())) {
      throw QueryParameters.invalid(
          "second_soak",
          "second_soak=%s is a soak of %s; name another one of %s."
              .formatted(second.id(), second.tracker(), soak.tracker()));
    }
    return second == null || second.id().equals(soak.id()) ? null : second;
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
}
