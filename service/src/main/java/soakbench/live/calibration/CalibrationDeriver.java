package soakbench.live.calibration;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.live.EventClock;
import soakbench.live.StoreException;
import soakbench.live.deriving.DerivationInput;
import soakbench.live.deriving.DerivedStore;
import soakbench.live.deriving.Deriver;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Status;

/**
 * Derives every soak's calibrations and their checks, and takes people's reports of them.
 * Thread-safe.
 */
public final class CalibrationDeriver extends Deriver<List<Calibration>> {
  /** To be raised when the same bins give other calibrations: all are derived again then. */
  public static final int VERSION = 4;

  private static final int AT_A_TIME = 20;

  private final CalibrationReports reports;
  private final List<Consumer<List<Calibration>>> listeners = new CopyOnWriteArrayList<>();

  /** The same without a clock that dates failures. */
  public CalibrationDeriver(DerivedStore<List<Calibration>> store, CalibrationReports reports) {
    this(store, reports, () -> 0);
  }

  /**
   * @param clock dates what fails
   */
  public CalibrationDeriver(
      DerivedStore<List<Calibration>> store, CalibrationReports reports, EventClock clock) {
    super("calibrations", store, VERSION, AT_A_TIME, clock);
    this.reports = reports;
  }

  /**
   * Subscribes to all calibrations of a soak in which one is new or changed. Must return at once.
   */
  public void subscribe(Consumer<List<Calibration>> listener) {
    listeners.add(listener);
  }

  @Override
  public synchronized int deriveOutdated() {
    return super.deriveOutdated();
  }

  @Override
  protected void derive(DerivationInput input) {
    find(input);
  }

  private List<Calibration> find(DerivationInput input) {
    List<Calibration> before = stored(input.soak().id());
    CalibrationsFound found =
        CalibrationFinder.of(CalibrationInput.of(store().reader(), input, reports));
    store().put(input, VERSION, found.calibrations(), found.pending());
    if (!CalibrationChange.same(before, found.calibrations())) {
      listeners.forEach(l -> l.accept(found.calibrations()));
    }
    return found.calibrations();
  }

  private List<Calibration> stored(String soak) {
    return store().find(soak).orElse(List.of());
  }

  /**
   * Somebody reports that a tracker was calibrated. About a question it is the answer; about one
   * that was undone it restores it.
   *
   * @param soak the soak that holds the time
   * @return the calibration that it makes
   * @throws StoreException if the store does not answer
   */
  public synchronized Calibration report(String soak, long atUs) {
    DerivationInput input = store().input(soak).orElseThrow();
    String tracker = input.soak().tracker();
    long key = Math.floorDiv(atUs, 1_000_000L) * 1_000_000L;
    Optional<Calibration> known =
        stored(soak).stream().filter(c -> answers(c, key)).reduce((a, b) -> b);
    long reportedUs = known.map(Calibration::atUs).orElse(key);
    if (known.isPresent() && known.get().status() == Status.MARK) {
      return known.get();
    }
    boolean sure = known.map(Calibration::handling).filter(HandlingSeen::sure).isPresent();
    if (sure) {
      reports.withdraw(tracker, reportedUs);
    } else {
      reports.report(tracker, reportedUs, true);
    }
    return derivedNow(input).stream().filter(c -> answers(c, reportedUs)).findFirst().orElseThrow();
  }

  /** The report is stored, so it counts as soon as the soak's calibrations can be derived. */
  private List<Calibration> derivedNow(DerivationInput input) {
    try {
      List<Calibration> found = find(input);
      runner().succeeded(input.soak().id());
      return found;
    } catch (StoreException e) {
      throw e;
    } catch (RuntimeException e) {
      runner().failed(input.soak().id(), e);
      throw e;
    }
  }

  private static boolean answers(Calibration c, long atUs) {
    long second = Math.floorDiv(atUs, 1_000_000L);
    return c.atUs() == atUs
        || c.handling() != null && CalibrationFinder.isReportOf(c.handling(), second);
  }

  /**
   * Somebody reports that a calibration or a question is none. The soak and what was measured stay.
   *
   * @return whether there was one
   * @throws StoreException if the store does not answer
   */
  public synchronized boolean undo(String soak, long atUs) {
    DerivationInput input = store().input(soak).orElseThrow();
    Optional<Calibration> known = stored(soak).stream().filter(c -> c.atUs() == atUs).findFirst();
    if (known.isEmpty() || known.get().status() == Status.UNDONE) {
      return false;
    }
    reports.report(input.soak().tracker(), atUs, false);
    derivedNow(input);
    return true;
  }
}
