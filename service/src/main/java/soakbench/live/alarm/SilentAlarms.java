package soakbench.live.alarm;

import java.time.Duration;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.function.Predicate;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import soakbench.model.AlarmCause;
import soakbench.model.AlarmCause.Kind;
import soakbench.model.AlarmCause.Severity;
import soakbench.model.State;
import soakbench.readiness.Readiness;

/**
 * Raises alarms for trackers that fell silent in their soak. One that was calibrated and found good
 * is taken off the rack, which is how the job ends: it raises nothing, unless it was heard last
 * with a reason to look at it for heat. Where most of a rack fall silent within {@link #TOGETHER}
 * it is the rack's cable, hub or network, and one alarm in place of all. A single one is raised
 * after {@link #HELD}, so that a rack's trackers are not raised one by one first. After a start all
 * that could not be heard meanwhile looks silent: it has {@link #TOGETHER} to come back. Not
 * thread-safe.
 */
final class SilentAlarms {
  /** So long a tracker that fell silent alone is held back: the others of its rack may follow. */
  static final Duration HELD = Duration.ofSeconds(5);

  /** Those that fall silent within this time fall silent together. */
  static final Duration TOGETHER = Duration.ofSeconds(30);

  /** Fewer are raised one by one. */
  static final int LEAST = 3;

  private final AlarmRegistry registry;
  private final UnaryOperator<String> rackOf;
  private final Predicate<Readiness> calibratedAndGood;
  private final Predicate<String> heard;

  /**
   * Until when what was not heard yet may still come back after the start; null before the first.
   */
  private Long startedUs;

  /** Silent trackers that were not heard since the start. */
  private final Set<String> missed = new HashSet<>();

  /** Since when a tracker is silent, by the service's clock. */
  private final Map<String, Long> silentSinceUs = new HashMap<>();

  /** From when on a silent tracker is raised alone, by the service's clock. */
  private final Map<String, Long> aloneFromUs = new HashMap<>();

  /** The trackers that an alarm about their rack stands for, those heard again meanwhile too. */
  private final Map<String, Set<String>> inRackAlarm = new HashMap<>();

  /**
   * @param rackOf the rack of a tracker; empty where it has none
   * @param calibratedAndGood whether a silent tracker was calibrated in its soak and found good
   * @param heard whether a tracker was heard since the start
   */
  SilentAlarms(
      AlarmRegistry registry,
      UnaryOperator<String> rackOf,
      Predicate<Readiness> calibratedAndGood,
      Predicate<String> heard) {
    this.registry = registry;
    this.rackOf = rackOf;
    this.calibratedAndGood = calibratedAndGood;
    this.heard = heard;
  }

  /**
   * Checks the verdicts of all open soaks.
   *
   * @param nowUs by the clock that never steps
   * @param dateUs the same moment by the clock that dates verdicts
   */
  void check(List<Readiness> verdicts, long nowUs, long dateUs) {
    startedUs = startedUs == null ? Long.valueOf(nowUs + us(TOGETHER)) : startedUs;
    Map<String, List<Readiness>> racks = new TreeMap<>();
    for (Readiness verdict : verdicts) {
      if (!isTakenOff(verdict)) {
        racks.computeIfAbsent(rackOf.apply(verdict.tracker()), r -> new ArrayList<>()).add(verdict);
      }
    }
    Map<String, Readiness> silent =
        racks.values().stream()
            .flatMap(List::stream)
            .filter(v -> v.state() == State.SILENT)
            .collect(Collectors.toMap(Readiness::tracker, v -> v));
    heardAgain(silent.keySet(), nowUs);
    silent.values().stream()
        .filter(verdict -> !silentSinceUs.containsKey(verdict.tracker()))
        .forEach(verdict -> fallSilent(verdict, nowUs, dateUs));
    List.copyOf(inRackAlarm.keySet()).stream()
        .filter(rack -> !racks.containsKey(rack))
        .forEach(rack -> over(rack, nowUs));
    racks.forEach((rack, here) -> check(rack, here, nowUs));
  }

  private boolean isTakenOff(Readiness verdict) {
    return verdict.state() == State.SILENT
        && verdict.heat() == null
        && calibratedAndGood.test(verdict);
  }

  private void fallSilent(Readiness verdict, long nowUs, long dateUs) {
    String tracker = verdict.tracker();
    if (nowUs >= startedUs || heard.test(tracker)) {
      silentSinceUs.put(tracker, nowUs);
      aloneFromUs.put(tracker, nowUs + us(HELD));
    } else {
      missed.add(tracker);
      // It may have been silent for hours when this program started.
      silentSinceUs.put(tracker, nowUs - Math.max(0, dateUs - verdict.sinceUs()));
      aloneFromUs.put(tracker, startedUs);
    }
  }

  private void heardAgain(Set<String> silent, long nowUs) {
    for (String tracker : List.copyOf(silentSinceUs.keySet())) {
      if (!silent.contains(tracker)) {
        silentSinceUs.remove(tracker);
        aloneFromUs.remove(tracker);
        missed.remove(tracker);
        registry.gone(Kind.SILENT, tracker, nowUs);
      }
    }
  }

  private void check(String rack, List<Readiness> here, long nowUs) {
    List<Readiness> silent = here.stream().filter(v -> v.state() == State.SILENT).toList();
    if (inRackAlarm.containsKey(rack) && !holds(rack, here, silent)) {
      over(rack, nowUs);
    }
    boolean whole = inRackAlarm.containsKey(rack);
    if (!whole && together(here.size(), silent, nowUs)) {
      inRackAlarm.put(rack, new HashSet<>());
      registry.report(rackSilent(rack, silent.size(), here.size()), nowUs);
      whole = true;
    }
    for (Readiness verdict : silent) {
      if (whole) {
        inRackAlarm.get(rack).add(verdict.tracker());
        registry.fold(Kind.SILENT, verdict.tracker(), nowUs);
      } else if (nowUs >= aloneFromUs.get(verdict.tracker())) {
        registry.report(silent(verdict), nowUs);
      }
    }
  }

  /** As long as more than half of those that it was raised for, and still soak, are not heard. */
  private boolean holds(String rack, List<Readiness> here, List<Readiness> silent) {
    Set<String> members = inRackAlarm.get(rack);
    members.retainAll(here.stream().map(Readiness::tracker).collect(Collectors.toSet()));
    long unheard = silent.stream().filter(v -> members.contains(v.tracker())).count();
    return 2 * unheard > members.size();
  }

  /** Those of the rack that are not heard yet have as long to come back as they had to go. */
  private void over(String rack, long nowUs) {
    inRackAlarm.remove(rack).forEach(tracker -> aloneFromUs.replace(tracker, nowUs + us(TOGETHER)));
    registry.goneFromRack(Kind.RACK_SILENT, rack, nowUs);
  }

  /** Whether most of those that were heard fell silent within the time. */
  private boolean together(int all, List<Readiness> silent, long nowUs) {
    List<Long> since =
        silent.stream()
            .map(Readiness::tracker)
            .filter(tracker -> nowUs >= startedUs || !missed.contains(tracker))
            .map(silentSinceUs::get)
            .sorted()
            .toList();
    int here = all - silent.size() + since.size();
    for (int first = 0; first + LEAST <= since.size(); first++) {
      long untilUs = since.get(first) + us(TOGETHER);
      long count = since.stream().skip(first).filter(us -> us <= untilUs).count();
      // Those that were silent before are no part of the rack that was still heard.
      if (count >= LEAST && 2 * count > here - first) {
        return true;
      }
    }
    return false;
  }

  private static AlarmCause rackSilent(String rack, int silent, int here) {
    String where = rack.isEmpty() ? "trackers without a rack" : "trackers of rack " + rack;
    return AlarmCause.ofRack(
        Kind.RACK_SILENT,
        Severity.SEVERE,
        rack,
        "Nothing is heard of "
            + silent
            + " of "
            + here
            + " "
            + where
            + ": they fell silent"
            + " together.",
        "Nobody sees how hot they are: look at them, then at what they share, a cable, a hub, a"
            + " computer or the network.");
  }

  private static AlarmCause silent(Readiness verdict) {
    State interrupted = verdict.standing().before();
    String before = interrupted == null ? "" : "; it was " + interrupted.word();
    return AlarmCause.plain(
        Kind.SILENT,
        Severity.WARNING,
        verdict.tracker(),
        verdict.tracker() + ": nothing is heard in mid-soak" + before + ".",
        "Nobody sees how hot it is: look at it, then at its cable, port or battery. If it was taken"
            + " off, say so: that ends its soak.");
  }

  private static long us(Duration duration) {
    return duration.toNanos() / 1000;
  }
}
