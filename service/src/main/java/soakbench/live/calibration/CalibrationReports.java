package soakbench.live.calibration;

import java.util.Map;
import soakbench.live.StoreException;
import soakbench.model.Soak;

/** People's reports about calibrations; never derived. Failures are {@link StoreException}. */
public interface CalibrationReports {
  /** Stores a report that a tracker was, or was not, calibrated at this time. */
  void report(String tracker, long atUs, boolean was);

  /** Removes the report about this time. */
  void withdraw(String tracker, long atUs);

  /** The reports about a soak: at which second since 1970 it was, or was not, calibrated. */
  Map<Long, Boolean> of(Soak soak);
}
