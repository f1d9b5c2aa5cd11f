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
 * Finds the calibrations of one soak, seen and reported, and checks them. The same bins, timeline
 * and reports give the same calibrations: live, replayed and after a restart. Not thread-safe.
 */
public final class CalibrationFinder {
  /** A report comes while the tracker is handled, or at most so long after, s. */
  private static final long REPORTED_WITHIN_S = 300;

  private final CalibrationInput input;
  private final HandlingDetector watch = new HandlingDetector();
  private final NavigableMap<Long, Boolean> reports;
  private final List<Open> calibrations = new ArrayList<>();

  /** The handling before, whether or not it was a calibration. */
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

  private CalibrationFinder(CalibrationInput input) {
    this.input = input;
    this.reports = new TreeMap<>(input.reports());
  }

  /** All calibrations of the soak, by time. */
  public static CalibrationsFound of(CalibrationInput input) {
    CalibrationFinder finder = new CalibrationFinder(input);
    finder.watch();
    boolean goesOn = input.goesOn();
    finder.reportedDuringHandling();
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
    List<Bin> bins = input.bins();
    for (int i = 0; i < bins.size(); i++) {
      Bin bin = bins.get(i);
      Optional<HandlingSeen> lying = reportedWhileLying(bin.second());
      Optional<HandlingSeen> handling = watch.accept(bin);
      if (watch.handled()) {
        calibrations.stream().filter(Open::waits).forEach(open -> open.moved = true);
      }
      lying.ifPresent(seen -> calibrations.add(new Open(reported(seen, seen.atSecond()), true)));
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

  /** A report about a tracker that was not lifted: some firmware calibrates as it lies. */
  private Optional<HandlingSeen> reportedWhileLying(long second) {
    boolean now = reports.containsKey(second) && !watch.handled() && !soonAfterHandling(second);
    return now ? watch.lying(second) : Optional.empty();
  }

  private boolean soonAfterHandling(long second) {
    return newest != null && isReportOf(newest, second);
  }

  /** Whether a report at this second is about this handling. */
  static boolean isReportOf(HandlingSeen handling, long second) {
    return within(handling, second, REPORTED_WITHIN_S);
  }

  private void take(HandlingSeen seen) {
    newest = seen;
    if (!input.holds(seen.atSecond())) {
      return;
    }
    Optional<Long> reported =
        reports.keySet().stream().filter(t -> within(seen, t, REPORTED_WITHIN_S)).findFirst();
    boolean undone = reported.isPresent() && !reports.get(reported.get());
    if (seen.sure()) {
      add(
          seen,
          calibration(seen, undone ? Status.UNDONE : Status.MARK, Origin.SEEN, seen.atSecond()));
    } else if (seen.kind() == Kind.QUESTION && (reported.isEmpty() || undone)) {
      add(
          seen,
          calibration(
              seen, undone ? Status.UNDONE : Status.QUESTION, Origin.SEEN, seen.atSecond()));
    } else {
      reported.ifPresent(at -> add(seen, reported(seen, at)));
    }
  }

  private Calibration reported(HandlingSeen seen, long atSecond) {
    return calibration(
        seen, reports.get(atSecond) ? Status.MARK : Status.UNDONE, Origin.TOLD, atSecond);
  }

  private static boolean within(HandlingSeen seen, long second, long afterS) {
    return second >= seen.atSecond() && second <= seen.restSecond() + afterS;
  }

  /** A report about a handling is not one about a tracker at rest. */
  private void add(HandlingSeen seen, Calibration calibration) {
    reports.keySet().removeIf(t -> within(seen, t, REPORTED_WITHIN_S));
    calibrations.removeIf(
        open ->
            open.lying && within(seen, open.calibration.handling().atSecond(), REPORTED_WITHIN_S));
    calibrations.add(new Open(calibration, false));
  }

  private Calibration calibration(HandlingSeen seen, Status status, Origin origin, long atSecond) {
    long liftedSecond = seen == null ? atSecond : seen.atSecond();
    Soak soak = input.soak();
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

  /** Reports about a tracker that is still being handled. */
  private void reportedDuringHandling() {
    reports.forEach(
        (second, was) -> {
          boolean lying =
              calibrations.stream()
                  .anyMatch(o -> o.lying && o.calibration.atUs() == second * 1_000_000L);
          if (input.holds(second) && !lying) {
            calibrations.add(new Open(reported(null, second), false));
          }
        });
  }

  /** Disturbed and silent keep the verdict that they interrupted. */
  private State stateBefore(long liftedSecond) {
    State state = null;
    for (StateChange change : input.timeline()) {
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
    Calibration.Check check =
        open.still == null ? null : CalibrationChecker.of(input, m, open.still);
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
