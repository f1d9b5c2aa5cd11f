package soakbench.live.calibration;

import java.util.List;
import soakbench.readiness.Calibration;

/**
 * The calibrations of one soak.
 *
 * @param marks by time
 * @param pending whether something is under way that the next seconds decide
 */
public record CalibrationsFound(List<Calibration> marks, boolean pending) {

  public CalibrationsFound {
    marks = List.copyOf(marks);
  }
}
