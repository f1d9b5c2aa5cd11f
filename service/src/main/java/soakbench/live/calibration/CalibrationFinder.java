package soakbench.live.calibration;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.TreeMap;
import soakbench.drift.calibration.HandlingDetector;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.drift.calibration.HandlingSeen.Kind;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Origin;
import soakbench.readiness.Calibration.Status;
import soakbench.readiness.CalibrationCheck;

/**
 * Finds the calibrations of one soak, seen and told, and checks them. The same bins, timeline and
 * words of people give the same calibrations: live, replayed and after a restart. Not thread-safe.
 */
public final class CalibrationFinder {
  /** Somebody says so while it is handled, or so long after, s. */
  private static final long SAID_WITHIN_S = 300;

  private final CalibrationAsk ask;
  private final HandlingDetector watch = new HandlingDetector();
  private final NavigableMap<Long, Boolean> said;
  private final List<Open> calibrations = new ArrayList<>();

  /** The handling before; it may be of no interest otherwise. */
  private HandlingSeen newest;

  /** A calibration while its still minute may still come. */
  private static final class Open {
    private final Calibration calibration;
    private final boolean lying;
    private List<Bin> still;
    private boolean moved;

    private Open(Calibration calibration, boolean lying) {
      this.calibration = calibration;
      this.lying = lying;
    }

    private boolean waits() {
      return calibration.status() == Status.MARK
          && calibration.handling() != null
          && still == null
          && !moved;
    }
  }

  private CalibrationFinder(CalibrationAsk ask) {
    this.ask = ask;
    this.said = new TreeMap<>(ask.said());
  }

  /** All calibrations of the soak, by time. */
  public static CalibrationsFound of(CalibrationAsk ask) {
    CalibrationFinder finder = new CalibrationFinder(ask);
    finder.watch();
    boolean goesOn = ask.goesOn();
    finder.saidOfNothingYet();
    List<Calibration> found =
        finder.calibrations.stream()
            .map(open -> finder.checked(open, goesOn))
            .sorted(Comparator.comparingLong(Calibration::atUs))
            .toList();
    boolean pending =
        goesOn && (finder.watch.handled() || finder.calibrations.stream().anyMatch(Open::waits));
    return new CalibrationsFound(found, pending);
  }

  private void watch() {
    List<Bin> bins = ask.bins();
    for (int i = 0; i < bins.size(); i++) {
      Bin bin = bins.get(i);
      Optional<HandlingSeen> lying = saidWhileLying(bin.second());
      Optional<HandlingSeen> handling = watch.accept(bin);
      if (watch.handled()) {
        calibrations.stream().filter(Open::waits).forEach(open -> open.moved = true);
      }
      lying.ifPresent(seen -> calibrations.add(new Open(told(seen, seen.atSecond()), true)));
      handling.ifPresent(this::take);
      if (watch.stillS() >= CalibrationCheck.LOOK_S) {
        List<Bin> minute = bins.subList(i + 1 - CalibrationCheck.LOOK_S, i + 1);
        calibrations.stream()
            .filter(
                open -> open.waits() && open.calibration.handling().restSecond() <= firstOf(minute))
            .forEach(open -> open.still = minute);
      }
    }
  }

  private static long firstOf(List<Bin> minute) {
    return minute.get(0).second();
  }

  /** Somebody said so of a tracker that was not lifted: some firmware calibrates as it lies. */
  private Optional<HandlingSeen> saidWhileLying(long second) {
    boolean now = said.containsKey(second) && !watch.handled() && !soonAfterHandling(second);
    return now ? watch.lying(second) : Optional.empty();
  }

  private boolean soonAfterHandling(long second) {
    return newest != null && saidOf(newest, second);
  }

  /** Whether what somebody says at this second is said of this handling. */
  static boolean saidOf(HandlingSeen handling, long second) {
    return within(handling, second, SAID_WITHIN_S);
  }

  private void take(HandlingSeen seen) {
    newest = seen;
    if (!ask.holds(seen.atSecond())) {
      return;
    }
    Optional<Long> told =
        said.keySet().stream().filter(t -> within(seen, t, SAID_WITHIN_S)).findFirst();
    boolean undone = told.isPresent() && !said.get(told.get());
    if (seen.sure()) {
      add(
          seen,
          calibration(seen, undone ? Status.UNDONE : Status.MARK, Origin.SEEN, seen.atSecond()));
    } else if (seen.kind() == Kind.QUESTION && (told.isEmpty() || undone)) {
      add(
          seen,
          calibration(
              seen, undone ? Status.UNDONE : Status.QUESTION, Origin.SEEN, seen.atSecond()));
    } else {
      told.ifPresent(at -> add(seen, told(seen, at)));
    }
  }

  private Calibration told(HandlingSeen seen, long atSecond) {
    return calibration(
        seen, said.get(atSecond) ? Status.MARK : Status.UNDONE, Origin.TOLD, atSecond);
  }

  private static boolean within(HandlingSeen seen, long second, long afterS) {
    return second >= seen.atSecond() && second <= seen.restSecond() + afterS;
  }

  /** What was said of a handling is not said of a tracker that lay. */
  private void add(HandlingSeen seen, Calibration calibration) {
    said.keySet().removeIf(t -> within(seen, t, SAID_WITHIN_S));
    calibrations.removeIf(
        open -> open.lying && within(seen, open.calibration.handling().atSecond(), SAID_WITHIN_S));
    calibrations.add(new Open(calibration, false));
  }

  private Calibration calibration(HandlingSeen seen, Status status, Origin origin, long atSecond) {
    long liftedSecond = seen == null ? atSecond : seen.atSecond();
    Soak soak = ask.soak();
    return new Calibration(
        soak.tracker(),
        atSecond * 1_000_000L,
        soak.id(),
        origin,
        status,
        stateBefore(liftedSecond),
        seen,
        null,
        null);
  }

  /** What was said of a tracker that is still in somebody's hand. */
  private void saidOfNothingYet() {
    said.forEach(
        (second, was) -> {
          boolean lying =
              calibrations.stream()
                  .anyMatch(o -> o.lying && o.calibration.atUs() == second * 1_000_000L);
          if (ask.holds(second) && !lying) {
            calibrations.add(new Open(told(null, second), false));
          }
        });
  }

  /** Disturbed and silent keep the verdict that they interrupted. */
  private State stateBefore(long liftedSecond) {
    State state = null;
    for (StateChange change : ask.timeline()) {
      boolean before = change.timeUs() < (liftedSecond - 1) * 1_000_000L;
      if (before && change.state() != State.DISTURBED && change.state() != State.SILENT) {
        state = change.state();
      }
    }
    return state;
  }

  private Calibration checked(Open open, boolean goesOn) {
    Calibration m = open.calibration;
    if (m.status() != Status.MARK) {
      return m;
    }
    Calibration.Check check = open.still == null ? null : CalibrationLook.of(ask, m, open.still);
    String reason = check != null ? null : unchecked(open, goesOn);
    return new Calibration(
        m.tracker(),
        m.atUs(),
        m.soak(),
        m.origin(),
        m.status(),
        m.stateBefore(),
        m.handling(),
        check,
        reason);
  }

  private String unchecked(Open open, boolean goesOn) {
    if (open.moved) {
      return "it was moved before it had lain still for a minute";
    }
    if (!goesOn) {
      return "nothing more was heard before it had lain still for a minute";
    }
    return Calibration.NOT_YET
        + (open.calibration.handling() == null
            ? "it has not lain still for half a minute since"
            : "the check takes a still minute, let it lie");
  }
}
