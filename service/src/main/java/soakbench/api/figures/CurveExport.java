package soakbench.api.figures;

import io.javalin.http.Context;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.ResponseFormat;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.CurveAsk;

/** A bias curve, of a soak or of a tracker, in the forms that it is given in. */
final class CurveExport {
  private static final int MOST_POINTS = 1000;

  private CurveExport() {}

  /** How many points are asked for. */
  static int points(Context ctx) {
    return QueryParameters.count(ctx, "points", CurveAsk.POINTS, MOST_POINTS, 2);
  }

  /**
   * Lowest and highest temperature asked for, degC; null for the end of what was covered.
   *
   * @throws ProblemException 400 if they are in the wrong order
   */
  static Double[] rangeC(Context ctx) {
    Double lowC = QueryParameters.celsius(ctx, "low_c");
    Double highC = QueryParameters.celsius(ctx, "high_c");
    if (lowC != null && highC != null && lowC >= highC) {
      throw QueryParameters.invalid(
          "low_c", "low_c=" + lowC + " must be below high_c=" + highC + ".");
    }
    return new Double[] {lowC, highC};
  }

  static void table(Context ctx, ResponseFormat form, BiasCurve curve) {
    if (form == ResponseFormat.CSV) {
      BandRow.TABLE.csv(ctx, BandRow.of(curve)::forEach);
    } else {
      JsonResponses.json(ctx, curve);
    }
  }

  /**
   * As a C header.
   *
   * @param from what the curve is from, in words
   * @throws ProblemException 409 if there is none
   */
  static void header(Context ctx, String tracker, String from, BiasCurve curve, int points) {
    if (curve.reason() != null) {
      throw new ProblemException(
          Problem.Kind.NO_CURVE,
          "There is no curve of %s to export, from %s: %s"
              .formatted(tracker, from, curve.reason()));
    }
    ctx.header("Cache-Control", "no-store").result(CurveHeader.text(tracker, from, curve, points));
    ctx.contentType("text/x-c; charset=utf-8");
  }
}
