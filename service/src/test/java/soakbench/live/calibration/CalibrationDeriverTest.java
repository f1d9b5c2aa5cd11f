package soakbench.live.calibration;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore;
import soakbench.live.deriving.DerivationInput;
import soakbench.live.deriving.DerivationInput.Basis;
import soakbench.live.deriving.DerivationStatus;
import soakbench.live.deriving.DerivedStore;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Origin;
import soakbench.readiness.Calibration.Status;

class CalibrationDeriverTest {
  private static final Soak SOAK = new Soak("T@1", "T", 0, 60_000_000, 60, null);

  private final StubStore store = new StubStore();
  private final CalibrationDeriver deriver = new CalibrationDeriver(store, new Said());

  private static final class Said implements CalibrationReports {
    private final Map<Long, Boolean> said = new HashMap<>();

    @Override
    public void report(String tracker, long atUs, boolean was) {
      said.put(atUs / 1_000_000, was);
    }

    @Override
    public void withdraw(String tracker, long atUs) {
      said.remove(atUs / 1_000_000);
    }

    @Override
    public Map<Long, Boolean> of(Soak soak) {
      return said;
    }
  }

  /** One soak with one mark, which can't be looked at while it is damaged. */
  private static final class StubStore implements DerivedStore<List<Calibration>> {
    private final SoakStore.Reader bare = new MemoryStore().reader();
    private boolean damaged = true;

    @Override
    public List<String> outdated(int version, int most, Set<String> not) {
      return damaged && !not.contains(SOAK.id()) ? List.of(SOAK.id()) : List.of();
    }

    @Override
    public Optional<DerivationInput> input(String soak) {
      SoakTerms terms = SoakTerms.of(Limits.DEFAULT);
      return Optional.of(new DerivationInput(SOAK, null, terms, Rates.RAW, new Basis("", "")));
    }

    @Override
    public SoakStore.Reader reader() {
      if (damaged) {
        throw new IllegalStateException("damaged");
      }
      return bare;
    }

    @Override
    public Optional<List<Calibration>> find(String soak) {
      return Optional.of(
          List.of(new Calibration("T", 5, soak, Origin.SEEN, Status.MARK, null, null, null, null)));
    }

    @Override
    public boolean put(
        DerivationInput outdated, int version, List<Calibration> derived, boolean waits) {
      return true;
    }
  }

  @Test
  void whatSomebodySaysOfASoakThatFailedAndIsDerivedWellNowIsNoFailureAnyMore() {
    deriver.deriveOutdated();
    assertThat(deriver.runner().failure(SOAK.id())).isPresent();
    store.damaged = false;
    assertThat(deriver.undo(SOAK.id(), 5)).isTrue();
    assertThat(deriver.runner().status()).isEqualTo(DerivationStatus.OK);
  }
}
