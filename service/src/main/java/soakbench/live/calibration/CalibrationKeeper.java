package soakbench.live.calibration;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.live.EventClock;
import soakbench.live.StoreException;
import soakbench.live.deriving.DerivedShelf;
import soakbench.live.deriving.DueSoak;
import soakbench.live.deriving.Keeper;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Status;

/**
 * Keeps every soak's calibrations and their checks, and takes what people say of them. Safe for
 * many threads.
 */
public final class CalibrationKeeper extends Keeper<List<Calibration>> {
  /** To be raised when the same bins show other calibrations: all are found again then. */
  public static final int VERSION = 3;

  private static final int AT_A_TIME = 20;

  private final SaidOfCalibrations said;
  private final List<Consumer<List<Calibration>>> listeners = new CopyOnWriteArrayList<>();

  /** The same with nothing to date failures by. */
  public CalibrationKeeper(DerivedShelf<List<Calibration>> shelf, SaidOfCalibrations said) {
    this(shelf, said, () -> 0);
  }

  /**
   * @param clock dates what fails
   */
  public CalibrationKeeper(
      DerivedShelf<List<Calibration>> shelf, SaidOfCalibrations said, EventClock clock) {
    super("calibrations", shelf, VERSION, AT_A_TIME, clock);
    this.said = said;
  }

  /** Hears of all calibrations of a soak in which one is new or changed. Must return at once. */
  public void subscribe(Consumer<List<Calibration>> listener) {
    listeners.add(listener);
  }

  @Override
  public synchronized int deriveDue() {
    return super.deriveDue();
  }

  @Override
  protected void derive(DueSoak due) {
    find(due);
  }

  private List<Calibration> find(DueSoak due) {
    List<Calibration> before = kept(due.soak().id());
    CalibrationsFound found = CalibrationFinder.of(CalibrationAsk.of(shelf().look(), due, said));
    shelf().keep(due, VERSION, found.calibrations(), found.pending());
    if (!CalibrationChange.same(before, found.calibrations())) {
      listeners.forEach(l -> l.accept(found.calibrations()));
    }
    return found.calibrations();
  }

  private List<Calibration> kept(String soak) {
    return shelf().kept(soak).orElse(List.of());
  }

  /**
   * Somebody says that a tracker was calibrated. Said of a question it is the answer; of one that
   * was undone it brings it back.
   *
   * @param soak the soak that holds the time
   * @return the calibration that it makes
   * @throws StoreException if the store does not answer
   */
  public synchronized Calibration tell(String soak, long atUs) {
    DueSoak due = shelf().soak(soak).orElseThrow();
    String tracker = due.soak().tracker();
    long key = Math.floorDiv(atUs, 1_000_000L) * 1_000_000L;
    Optional<Calibration> known =
        kept(soak).stream().filter(c -> answers(c, key)).reduce((a, b) -> b);
    long saidUs = known.map(Calibration::atUs).orElse(key);
    if (known.isPresent() && known.get().status() == Status.MARK) {
      return known.get();
    }
    boolean sure = known.map(Calibration::handling).filter(HandlingSeen::sure).isPresent();
    if (sure) {
      said.unsay(tracker, saidUs);
    } else {
      said.say(tracker, saidUs, true);
    }
    return derivedNow(due).stream().filter(c -> answers(c, saidUs)).findFirst().orElseThrow();
  }

  /** What was said is kept, so it counts as soon as the soak's calibrations can be derived. */
  private List<Calibration> derivedNow(DueSoak due) {
    try {
      List<Calibration> found = find(due);
      deriving().succeeded(due.soak().id());
      return found;
    } catch (StoreException e) {
      throw e;
    } catch (RuntimeException e) {
      deriving().failed(due.soak().id(), e);
      throw e;
    }
  }

  private static boolean answers(Calibration c, long atUs) {
    long second = Math.floorDiv(atUs, 1_000_000L);
    return c.atUs() == atUs
        || c.handling() != null && CalibrationFinder.saidOf(c.handling(), second);
  }

  /**
   * Somebody says that a calibration or a question is none. The soak and what was measured stay.
   *
   * @return whether there was one
   * @throws StoreException if the store does not answer
   */
  public synchronized boolean undo(String soak, long atUs) {
    DueSoak due = shelf().soak(soak).orElseThrow();
    Optional<Calibration> known = kept(soak).stream().filter(c -> c.atUs() == atUs).findFirst();
    if (known.isEmpty() || known.get().status() == Status.UNDONE) {
      return false;
    }
    said.say(due.soak().tracker(), atUs, false);
    derivedNow(due);
    return true;
  }
}
