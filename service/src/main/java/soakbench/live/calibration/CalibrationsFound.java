package soakbench.live.calibration;

import java.util.List;
import soakbench.readiness.Calibration;

/**
 * The calibrations of one soak.
 *
 * @param calibrations by time
 * @param pending whether something is under way that the next seconds decide
 */
public record CalibrationsFound(List<Calibration> calibrations, boolean pending) {

  public CalibrationsFound {
    calibrations = List.copyOf(calibrations);
  }
}
