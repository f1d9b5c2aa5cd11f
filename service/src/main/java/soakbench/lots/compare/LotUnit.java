package soakbench.lots.compare;

import soakbench.lots.TrackerFigures;
import soakbench.model.Tracker;
import soakbench.readiness.CalibrationCheck;

/**
 * A unit with its figures, however many soaks they are from.
 *
 * @param listed as the roster lists it
 * @param figures from all its soaks
 * @param check of its newest checked calibration; null where there is none
 * @param day on which most of its soaks began that count, of several the newest, as 2026-03-01;
 *     null where all its soaks are left out
 */
public record LotUnit(Tracker listed, TrackerFigures figures, CalibrationCheck check, String day) {

  /** Its id. */
  public String tracker() {
    return listed.id();
  }
}
