package soakbench.live.calibration;

import java.util.Map;
import soakbench.live.StoreException;
import soakbench.model.Soak;

/** What people said of calibrations; never derived. Failures are {@link StoreException}. */
public interface SaidOfCalibrations {
  /** Notes that somebody said that a calibration was, or was not, at this time. */
  void say(String tracker, long atUs, boolean was);

  /** Forgets what was said of this time. */
  void unsay(String tracker, long atUs);

  /** What was said of a soak: at which second since 1970 it was, or was not, calibrated. */
  Map<Long, Boolean> of(Soak soak);
}
