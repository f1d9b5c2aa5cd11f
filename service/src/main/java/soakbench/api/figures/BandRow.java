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
          .column("axis", r -> r.of.axis())
          .column("temperature_c", r -> r.point.temperatureC())
          .column("bias_dps", r -> r.point.biasDps())
          .column("confidence_low_dps", r -> r.point.confidenceLowDps())
          .column("confidence_high_dps", r -> r.point.confidenceHighDps())
          .column("prediction_low_dps", r -> r.point.predictionLowDps())
          .column("prediction_high_dps", r -> r.point.predictionHighDps())
          .column("extrapolated", r -> r.point.extrapolated())
          .column("interpolation_error_dps", r -> r.of.interpolationErrorDps());

  static List<BandRow> of(BiasCurve curve) {
    List<BandRow> rows = new ArrayList<>();
    for (BiasCurve.Axis axis : curve.axes()) {
      axis.bands().forEach(p -> rows.add(new BandRow(axis, p)));
    }
    return rows;
  }
}
