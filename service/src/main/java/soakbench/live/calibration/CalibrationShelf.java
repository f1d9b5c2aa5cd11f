package soakbench.live.calibration;

import java.util.List;
import java.util.Optional;
import soakbench.live.StoreException;
import soakbench.live.deriving.DueShelf;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;

/** What {@link CalibrationKeeper} needs of a store. Failures are {@link StoreException}. */
public interface CalibrationShelf extends DueShelf<CalibrationShelf.Due> {
  /**
   * A soak whose kept calibrations are not those of its present state.
   *
   * @param changes how many lines its timeline had
   * @param heardUs the tracker's newest sample
   * @param before in which state the soak before it is, where it was cut; null where not
   * @param said what people said of its calibrations; null where nothing
   */
  record Due(
      Soak soak,
      Limits limits,
      Rates rates,
      int changes,
      long heardUs,
      String before,
      String said) {}

  /** What the calibrations of a soak are found in. */
  CalibrationAsk ask(Due due);

  /** What is kept of a soak. */
  List<Calibration> kept(String soak);

  /** Keeps what was found, with the state of the soak that it was found in. */
  void keep(Due due, int version, CalibrationsFound found);

  /** Notes that somebody said that a calibration was, or was not, at this time. */
  void say(String tracker, long atUs, boolean was);

  /** Forgets what was said of this time. */
  void unsay(String tracker, long atUs);

  /** The tracker's soak that holds this time, or ended a moment before; empty where none does. */
  Optional<Soak> soakAt(String tracker, long atUs);
}
