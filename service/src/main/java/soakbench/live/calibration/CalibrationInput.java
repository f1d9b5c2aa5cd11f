package soakbench.live.calibration;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.live.SoakStore;
import soakbench.live.deriving.DerivationInput;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Soak;
import soakbench.model.Soak.End;
import soakbench.model.StateChange;
import soakbench.model.Tracker.Rates;

/**
 * The input from which the calibrations of one soak are found. A tracker is switched off and on to
 * calibrate it, and may cool by more than a degree meanwhile, which cuts its soak: so the seconds
 * before and after such a cut belong to it.
 *
 * @param soak the soak in which the tracker was lifted
 * @param bins its seconds, with those around it, by time
 * @param timeline of the soak
 * @param reports what people reported: at which second (since 1970) it was, or was not, calibrated
 * @param limits what the soak is judged by
 * @param rates what the roster declares of its rates
 */
public record CalibrationInput(
    Soak soak,
    List<Bin> bins,
    List<StateChange> timeline,
    Map<Long, Boolean> reports,
    Limits limits,
    Rates rates) {
  /** So much is looked at before a soak that goes on after a cut, s. */
  private static final long BEFORE_S = 1_000;

  /** So much is looked at after a soak that was cut, s. */
  private static final long AFTER_S = 1_800;

  public CalibrationInput {
    bins = List.copyOf(bins);
    timeline = List.copyOf(timeline);
    reports = Map.copyOf(reports);
  }

  /** Reads this input of a soak. */
  static CalibrationInput of(
      SoakStore.Reader reader, DerivationInput input, CalibrationReports reports) {
    Soak soak = input.soak();
    Limits limits = input.terms().limits();
    return of(reader, soak, input.before(), reports.of(soak), limits, input.rates());
  }

  /**
   * Reads this input of a soak.
   *
   * @param before the tracker's soak before, or null
   * @param reports what people reported of it
   */
  public static CalibrationInput of(
      SoakStore.Reader reader,
      Soak soak,
      Soak before,
      Map<Long, Boolean> reports,
      Limits limits,
      Rates rates) {
    long from = soak.startSecond();
    long to = soak.endSecond() + 1;
    String tracker = soak.tracker();
    List<Bin> bins = new ArrayList<>();
    if (before != null && before.ended() == End.COOLER_REBOOT) {
      append(bins, reader.bins(tracker, Math.max(before.startSecond(), from - BEFORE_S), from));
    }
    append(bins, reader.bins(tracker, from, to));
    if (soak.ended() == End.COOLER_REBOOT) {
      append(bins, reader.bins(tracker, to, to + AFTER_S));
    }
    return new CalibrationInput(soak, bins, reader.timeline(soak.id()), reports, limits, rates);
  }

  /** Appends a part; a new soak counts its boots from zero, here they go on. */
  private static void append(List<Bin> joined, List<Bin> part) {
    int boots = joined.isEmpty() ? 0 : joined.get(joined.size() - 1).boot() + 1;
    part.forEach(bin -> joined.add(boots == 0 ? bin : bin.withBoot(bin.boot() + boots)));
  }

  /** Whether this second is one of the soak itself, or of its end. */
  boolean holds(long second) {
    return second >= soak.startSecond() && second <= soak.endSecond() + 1;
  }

  /** The soak's own seconds and those after it, up to this one. */
  List<Bin> from(long toSecond) {
    long start = soak.startSecond();
    return bins.stream().filter(b -> b.second() >= start && b.second() <= toSecond).toList();
  }

  /** The still seconds that a handling's bias before lifting is the mean of. */
  List<Bin> before(HandlingSeen seen) {
    // The very last is left out: a hand is there before the second in which it is seen.
    int last = (int) bins.stream().filter(b -> b.second() < seen.atSecond()).count() - 1;
    return bins.subList(last - seen.stillS(), last);
  }

  /** From lifting to lying still. */
  List<Bin> handled(HandlingSeen seen) {
    return bins.stream()
        .filter(b -> b.second() >= seen.atSecond() && b.second() < seen.restSecond())
        .toList();
  }

  /** Whether later seconds may change what is found. */
  boolean goesOn() {
    long end = soak.endSecond();
    long heard = bins.isEmpty() ? end : bins.get(bins.size() - 1).second();
    return soak.open() || soak.ended() == End.COOLER_REBOOT && heard < end + AFTER_S - 1;
  }
}
