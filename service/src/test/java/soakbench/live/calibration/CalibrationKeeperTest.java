package soakbench.live.calibration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore;
import soakbench.live.deriving.DerivedShelf;
import soakbench.live.deriving.DerivingState;
import soakbench.live.deriving.DueSoak;
import soakbench.live.deriving.DueSoak.Basis;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Origin;
import soakbench.readiness.Calibration.Status;

class CalibrationKeeperTest {
  private static final Soak SOAK = new Soak("T@1", "T", 0, 60_000_000, 60, null);

  private final Shelf shelf = new Shelf();
  private final CalibrationKeeper keeper = new CalibrationKeeper(shelf, new Said());

  private static final class Said implements SaidOfCalibrations {
    private final Map<Long, Boolean> said = new HashMap<>();

    @Override
    public void say(String tracker, long atUs, boolean was) {
      said.put(atUs / 1_000_000, was);
    }

    @Override
    public void unsay(String tracker, long atUs) {
      said.remove(atUs / 1_000_000);
    }

    @Override
    public Map<Long, Boolean> of(Soak soak) {
      return said;
    }
  }

  /** One soak with one mark, which can't be looked at while it is damaged. */
  private static final class Shelf implements DerivedShelf<List<Calibration>> {
    private final SoakStore.Look bare = new MemoryStore().look();
    private boolean damaged = true;

    @Override
    public List<String> due(int version, int most, Set<String> not) {
      return damaged && !not.contains(SOAK.id()) ? List.of(SOAK.id()) : List.of();
    }

    @Override
    public Optional<DueSoak> soak(String soak) {
      SoakTerms terms = SoakTerms.of(Limits.DEFAULT);
      return Optional.of(new DueSoak(SOAK, null, terms, Rates.RAW, new Basis("", "")));
    }

    @Override
    public SoakStore.Look look() {
      if (damaged) {
        throw new IllegalStateException("damaged");
      }
      return bare;
    }

    @Override
    public Optional<List<Calibration>> kept(String soak) {
      return Optional.of(
          List.of(new Calibration("T", 5, soak, Origin.SEEN, Status.MARK, null, null, null, null)));
    }

    @Override
    public boolean keep(DueSoak due, int version, List<Calibration> derived, boolean waits) {
      return true;
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
