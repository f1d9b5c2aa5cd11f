package soakbench.live.figures;

import java.util.List;
import soakbench.live.calibration.CalibrationKeeper;
import soakbench.live.deriving.DerivingState;
import soakbench.live.deriving.Keeper;

/**
 * Everything that is derived from stored bins apart from the writing of samples: calibrations,
 * figures, and what is kept for later soaks. Safe for many threads.
 *
 * @param calibrations of each soak
 * @param figures of each soak
 * @param summaries what is kept of each soak for those after it
 */
public record Keepers(
    CalibrationKeeper calibrations, FigureKeeper figures, SummaryKeeper summaries) {

  /** Derives some of what is due; called every few seconds. What fails is told by the state. */
  public void deriveDue() {
    all().forEach(Keeper::deriveDue);
  }

  /** How it goes. */
  public DerivingState state() {
    return DerivingState.worst(
        all().stream().map(k -> k.deriving().state()).toArray(DerivingState[]::new));
  }

  private List<Keeper<?>> all() {
    return List.of(calibrations, figures, summaries);
  }
}
