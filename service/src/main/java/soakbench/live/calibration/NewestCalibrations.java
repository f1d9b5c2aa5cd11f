package soakbench.live.calibration;

import java.time.Duration;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.EventClock;
import soakbench.live.StoreException;
import soakbench.live.watch.SoakRun;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Status;
import soakbench.readiness.CalibrationCheck;
import soakbench.readiness.CalibrationCheck.Verdict;
import soakbench.readiness.Readiness;

/**
 * The newest calibration of every tracker, in memory: what the next step with a tracker is, and
 * whether its silence is none, is asked every second, and also while the database is away.
 * Thread-safe.
 */
public final class NewestCalibrations {
  /** A calibration that is gone, which no listener reports, is noticed after so long. */
  static final Duration READ_EVERY = Duration.ofSeconds(30);

  private static final Logger LOG = LoggerFactory.getLogger(NewestCalibrations.class);

  /** What was undone counts only where there is nothing else. */
  private static final Comparator<Calibration> BY_WEIGHT =
      Comparator.comparing((Calibration c) -> c.status() != Status.UNDONE)
          .thenComparingLong(Calibration::atUs);

  private final Supplier<List<Calibration>> all;
  private final EventClock clock;
  private volatile Map<String, Calibration> newest = new ConcurrentHashMap<>();
  private Long readAtUs;
  private boolean stale;

  /**
   * @param all reads the newest calibration or question of every tracker; may throw {@link
   *     StoreException}
   */
  public NewestCalibrations(Supplier<List<Calibration>> all, EventClock clock) {
    this.all = all;
    this.clock = clock;
  }

  /** Reads what is stored, where that is due. Called about once a second, apart from judging. */
  public synchronized void refresh() {
    long nowUs = clock.runningUs();
    if (readAtUs != null && nowUs - readAtUs < READ_EVERY.toNanos() / 1000) {
      return;
    }
    try {
      read();
    } catch (StoreException e) {
      if (!stale) {
        LOG.warn("Calibrations stay as they were last read: {}", e.getMessage());
      }
      stale = true;
    }
  }

  /** Has the next {@link #refresh} read what is stored: somebody else may have derived it. */
  public synchronized void readSoon() {
    readAtUs = null;
  }

  /**
   * Reads what is stored, now: before alarms are raised, since else what was calibrated and taken
   * off is taken for silent.
   *
   * @throws StoreException if it can't be read; what was known stays
   */
  public synchronized void read() {
    readAtUs = clock.runningUs();
    newest =
        new ConcurrentHashMap<>(
            all.get().stream().collect(Collectors.toMap(Calibration::tracker, c -> c)));
    stale = false;
  }

  /** Takes all calibrations of one soak, as {@link CalibrationDeriver} publishes them. */
  public synchronized void changed(List<Calibration> calibrations) {
    calibrations.stream()
        .max(BY_WEIGHT)
        .ifPresent(
            calibration ->
                newest.merge(
                    calibration.tracker(),
                    calibration,
                    (known, update) ->
                        known.soak().equals(update.soak()) || BY_WEIGHT.compare(known, update) < 0
                            ? update
                            : known));
  }

  /** The tracker's newest calibration or question. */
  public Optional<Calibration> of(String tracker) {
    return Optional.ofNullable(newest.get(tracker));
  }

  /**
   * Whether the tracker was calibrated in the soak of this verdict, and nothing is left to do but
   * to take it off: its check says keep, or that it is good now and only its use is not known.
   */
  public boolean isDone(Readiness verdict) {
    if (verdict.soak() == null) {
      return false;
    }
    Calibration calibration = newest.get(verdict.tracker());
    return calibration != null
        && calibration.status() == Status.MARK
        && calibration.check() != null
        && isGood(calibration.check().result())
        && during(calibration.check(), verdict);
  }

  private static boolean isGood(CalibrationCheck check) {
    return check.verdict() == Verdict.KEEP
        || check.verdict() == Verdict.UNKNOWN && check.verdictNow() == Verdict.KEEP;
  }

  /** Switched off to be calibrated it may begin another soak: then it was checked in that. */
  private static boolean during(Calibration.Check check, Readiness verdict) {
    String asIfBegunThen = SoakRun.id(verdict.tracker(), check.toUs());
    return asIfBegunThen.compareTo(verdict.soak()) >= 0;
  }
}
