package soakbench.api.figures;

import java.util.function.Function;
import soakbench.lots.TrackerFigures;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck;

/**
 * A tracker's figures with its newest check.
 *
 * @param checked its newest mark with a check; null where there is none
 */
public record TrackerFiguresRow(TrackerFigures figures, Calibration checked) {
  static <T> Function<TrackerFiguresRow, T> of(Function<TrackerFigures, T> figure) {
    return row -> figure.apply(row.figures);
  }

  static <T> Function<TrackerFiguresRow, T> check(Function<CalibrationCheck, T> part, T unchecked) {
    return r -> r.checked == null ? unchecked : part.apply(r.checked.check().result());
  }
}
