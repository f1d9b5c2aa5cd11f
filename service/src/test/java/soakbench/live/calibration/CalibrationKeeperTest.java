package soakbench.live.calibration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import soakbench.live.deriving.DerivingState;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Origin;
import soakbench.readiness.Calibration.Status;

class CalibrationKeeperTest {
  private static final Soak SOAK = new Soak("T@1", "T", 0, 60_000_000, 60, null);

  private final Shelf shelf = new Shelf();
  private final CalibrationKeeper keeper = new CalibrationKeeper(shelf);

  /** One soak with one mark, which can't be asked about while it is damaged. */
  private static final class Shelf implements CalibrationShelf {
    private boolean damaged = true;

    @Override
    public List<String> due(int version, int most, Set<String> not) {
      return damaged && !not.contains(SOAK.id()) ? List.of(SOAK.id()) : List.of();
    }

    @Override
    public Optional<Due> soak(String soak) {
      return Optional.of(new Due(SOAK, Limits.DEFAULT, Rates.RAW, 0, 0, null, null));
    }

    @Override
    public CalibrationAsk ask(Due due) {
      if (damaged) {
        throw new IllegalStateException("damaged");
      }
      return new CalibrationAsk(SOAK, List.of(), List.of(), Map.of(), Limits.DEFAULT, Rates.RAW);
    }

    @Override
    public List<Calibration> kept(String soak) {
      return List.of(
          new Calibration("T", 5, soak, Origin.SEEN, Status.MARK, null, null, null, null));
    }

    @Override
    public void keep(Due due, int version, CalibrationsFound found) {}

    @Override
    public void say(String tracker, long atUs, boolean was) {}

    @Override
    public void unsay(String tracker, long atUs) {}

    @Override
    public Optional<Soak> soakAt(String tracker, long atUs) {
      return Optional.of(SOAK);
    }
  }

  @Test
  void whatSomebodySaysOfASoakThatFailedAndIsDerivedWellNowIsNoFailureAnyMore() {
    keeper.deriveDue();
    assertThat(keeper.deriving().failure(SOAK.id())).isPresent();
    shelf.damaged = false;
    assertThat(keeper.undo(SOAK.id(), 5)).isTrue();
    assertThat(keeper.deriving().state()).isEqualTo(DerivingState.OK);
  }
}
