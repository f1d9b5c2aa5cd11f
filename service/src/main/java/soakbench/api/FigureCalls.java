package soakbench.api;

import io.javalin.http.Context;
import java.util.List;
import java.util.function.Function;
import soakbench.live.SoakFigures;
import soakbench.live.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;
import soakbench.store.Recordings;

/** What is fitted to a soak: always from its bins as they are now. */
final class FigureCalls {
  private static final long US_PER_S = 1_000_000L;

  private final Recordings recordings;
  private final SoakWatch watch;

  FigureCalls(Recordings recordings, SoakWatch watch) {
    this.recordings = recordings;
    this.watch = watch;
  }

  void addTo(Routes routes) {
    routes
        .get("/api/soaks/{soak}/warm-up", ctx -> answer(ctx, SoakFigures::warmUp))
        .get("/api/soaks/{soak}/bias-curve", ctx -> answer(ctx, SoakFigures::biasCurve))
        .get("/api/soaks/{soak}/noise", ctx -> answer(ctx, SoakFigures::noise))
        .get("/api/soaks/{soak}/heading", ctx -> answer(ctx, SoakFigures::heading));
  }

  private void answer(Context ctx, Function<SoakFigures, ?> figure) {
    Form.requireJson(ctx);
    Soak soak = SoakCalls.find(recordings, ctx);
    List<Bin> bins =
        recordings.bins(
            soak.tracker(),
            Math.floorDiv(soak.startUs(), US_PER_S),
            Math.floorDiv(soak.endUs(), US_PER_S) + 1);
    // A soak of before terms were kept has none until the first start that knows them is done.
    Limits limits = recordings.terms(soak.id()).map(SoakTerms::limits).orElseGet(watch::limits);
    Rates told = watch.ratesTold().of(soak.tracker());
    Answers.json(ctx, figure.apply(SoakFigures.of(bins, limits, told)));
  }
}
