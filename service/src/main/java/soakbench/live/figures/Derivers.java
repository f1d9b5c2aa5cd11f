package soakbench.live.figures;

import java.util.List;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.live.deriving.DerivationStatus;
import soakbench.live.deriving.Deriver;

/**
 * All that is derived from stored bins apart from the writing of samples: calibrations, figures and
 * summaries. Thread-safe.
 *
 * @param calibrations of each soak
 * @param figures of each soak
 * @param summaries the summary of each soak for those after it
 */
public record Derivers(
    CalibrationDeriver calibrations, FigureDeriver figures, SummaryDeriver summaries) {

  /** Derives some of what is out of date; called every few seconds. Failures are in the status. */
  public void deriveOutdated() {
    all().forEach(Deriver::deriveOutdated);
  }

  /** The status. */
  public DerivationStatus status() {
    return DerivationStatus.worst(
        all().stream().map(k -> k.runner().status()).toArray(DerivationStatus[]::new));
  }

  private List<Deriver<?>> all() {
    return List.of(calibrations, figures, summaries);
  }
}
