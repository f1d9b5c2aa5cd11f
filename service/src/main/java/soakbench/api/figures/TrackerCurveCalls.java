package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.List;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;
import soakbench.lots.UnitCurve;
import soakbench.lots.UnitSoak;

/** A tracker's bias curve from all its soaks together. */
final class TrackerCurveCalls {
  private final TrackerSoaks soaks;

  TrackerCurveCalls(TrackerSoaks soaks) {
    this.soaks = soaks;
  }

  void addTo(Routes routes) {
    routes
        .table("/api/trackers/{id}/bias-curve", this::table, "low_c", "high_c", "points")
        .get("/api/trackers/{id}/bias-curve.h", this::header, "points");
  }

  private void table(Context ctx, ResponseFormat form) {
    Double[] rangeC = CurveExport.rangeC(ctx);
    int points = CurveExport.points(ctx);
    List<UnitSoak> counted = UnitSoak.counted(soaks.of(ctx));
    CurveExport.table(ctx, form, UnitCurve.of(counted, rangeC[0], rangeC[1], points));
  }

  private void header(Context ctx) {
    int points = CurveExport.points(ctx);
    List<UnitSoak> counted = UnitSoak.counted(soaks.of(ctx));
    BiasCurve curve = UnitCurve.of(counted, null, null, CurveAsk.POINTS);
    String from = counted.size() == 1 ? "its soak" : "its " + counted.size() + " soaks";
    CurveExport.header(ctx, ctx.pathParam("id"), from, curve, points);
  }
}
