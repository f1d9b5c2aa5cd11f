package soakbench.live;

import java.util.List;
import java.util.Optional;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.drift.CalibrationSeen;
import soakbench.live.CalibrationShelf.Due;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Status;

/**
 * Keeps every soak's calibrations and their checks up to date, and takes what people say of them.
 * They are derived from the bins, apart from the writing of samples: what is out of date is found
 * by comparing, so nothing is missed by a crash. Safe for many threads.
 */
public final class CalibrationKeeper {
  /** To be raised when the same bins show other calibrations: all are found again then. */
  static final int VERSION = 2;

  private static final Logger LOG = LoggerFactory.getLogger(CalibrationKeeper.class);
  private static final int AT_A_TIME = 20;

  private final CalibrationShelf shelf;
  private final List<Consumer<List<Calibration>>> listeners = new CopyOnWriteArrayList<>();

  public CalibrationKeeper(CalibrationShelf shelf) {
    this.shelf = shelf;
  }

  /** Hears of all marks of a soak in which one is new or changed. Must return at once. */
  public void subscribe(Consumer<List<Calibration>> listener) {
    listeners.add(listener);
  }

  /**
   * Finds the calibrations of some soaks that need it.
   *
   * @return how many soaks that were; fewer than asked for when nothing more is due
   * @throws StoreException if the store does not answer
   */
  public synchronized int deriveDue() {
    List<Due> due = shelf.due(VERSION, AT_A_TIME);
    due.forEach(this::derive);
    return due.size();
  }

  private List<Calibration> derive(Due due) {
    List<Calibration> before = shelf.kept(due.soak().id());
    CalibrationsFound found = found(due);
    shelf.keep(due, VERSION, found);
    if (!CalibrationChange.same(before, found.marks())) {
      listeners.forEach(l -> l.accept(found.marks()));
    }
    return found.marks();
  }

  private CalibrationsFound found(Due due) {
    try {
      return CalibrationsFound.of(shelf.ask(due));
    } catch (StoreException e) {
      throw e;
    } catch (RuntimeException e) {
      // One soak that fails must not keep the others from theirs.
      LOG.error("soak {}: no calibrations by a mistake of the program", due.soak().id(), e);
      return new CalibrationsFound(List.of(), false);
    }
  }

  /**
   * Somebody says that a tracker was calibrated. Said of a question it is the answer; of one that
   * was undone it brings it back.
   *
   * @param soak the soak that holds the time
   * @return the mark that it makes
   * @throws StoreException if the store does not answer
   */
  public synchronized Calibration tell(String soak, long atUs) {
    Due due = shelf.soak(soak).orElseThrow();
    String tracker = due.soak().tracker();
    long key = Math.floorDiv(atUs, 1_000_000L) * 1_000_000L;
    Optional<Calibration> known =
        shelf.kept(soak).stream().filter(c -> answers(c, key)).reduce((a, b) -> b);
    long saidUs = known.map(Calibration::atUs).orElse(key);
    if (known.isPresent() && known.get().status() == Status.MARK) {
      return known.get();
    }
    boolean sure = known.map(Calibration::handling).filter(CalibrationSeen::sure).isPresent();
    if (sure) {
      shelf.unsay(tracker, saidUs);
    } else {
      shelf.say(tracker, saidUs, true);
    }
    return derive(due).stream().filter(c -> answers(c, saidUs)).findFirst().orElseThrow();
  }

  private static boolean answers(Calibration c, long atUs) {
    long second = Math.floorDiv(atUs, 1_000_000L);
    return c.atUs() == atUs
        || c.handling() != null && CalibrationFinder.saidOf(c.handling(), second);
  }

  /**
   * Somebody says that a mark or a question is none. The soak and what was measured stay.
   *
   * @return whether there was one
   * @throws StoreException if the store does not answer
   */
  public synchronized boolean undo(String soak, long atUs) {
    Due due = shelf.soak(soak).orElseThrow();
    Optional<Calibration> known =
        shelf.kept(soak).stream().filter(c -> c.atUs() == atUs).findFirst();
    if (known.isEmpty() || known.get().status() == Status.UNDONE) {
      return false;
    }
    shelf.say(due.soak().tracker(), atUs, false);
    derive(due);
    return true;
  }
}
