package soakbench.lots.compare;

import soakbench.lots.MeasuredDays;
import soakbench.lots.TrackerFigures;
import soakbench.model.Tracker;
import soakbench.readiness.CalibrationCheck;

/**
 * A unit with its figures, however many soaks they are from.
 *
 * @param listed as the roster lists it
 * @param figures from all its soaks
 * @param check of its newest checked calibration; null where there is none
 * @param days on which its soaks began that count; null where all its soaks are left out
 */
public record LotUnit(
    Tracker listed, TrackerFigures figures, CalibrationCheck check, MeasuredDays days) {

  /** The day on which most of them began; null where all its soaks are left out. */
  public String day() {
    return days == null ? null : days.most();
  }

  /** Its id. */
  public String tracker() {
    return listed.id();
  }
}
