package soakbench.api.figures;

import java.util.ArrayList;
import java.util.List;
import soakbench.api.http.Table;
import soakbench.drift.curve.BiasCurve;
import soakbench.drift.curve.BiasCurve.Point;

/** One temperature of one axis of a bias curve, as a row of a table. */
record BandRow(BiasCurve.Axis of, Point point) {
  static final Table<BandRow> TABLE =
      new Table<BandRow>()
          .cell("axis", r -> r.of.axis())
          .cell("temperature_c", r -> r.point.temperatureC())
          .cell("bias_dps", r -> r.point.biasDps())
          .cell("confidence_low_dps", r -> r.point.confidenceLowDps())
          .cell("confidence_high_dps", r -> r.point.confidenceHighDps())
          .cell("prediction_low_dps", r -> r.point.predictionLowDps())
          .cell("prediction_high_dps", r -> r.point.predictionHighDps())
          .cell("extrapolated", r -> r.point.extrapolated())
          .cell("interpolation_error_dps", r -> r.of.interpolationErrorDps())
          .cell("standard_error_dps", r -> r.point.standardErrorDps());

  static List<BandRow> of(BiasCurve curve) {
    List<BandRow> rows = new ArrayList<>();
    for (BiasCurve.Axis axis : curve.axes()) {
      axis.bands().forEach(p -> rows.add(new BandRow(axis, p)));
    }
    return rows;
  }
}
