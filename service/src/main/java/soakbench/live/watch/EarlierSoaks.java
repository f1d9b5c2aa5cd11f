package soakbench.live.watch;

import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.model.Estimate;
import soakbench.model.RackAndLot;
import soakbench.model.TauPrior;
import soakbench.readiness.CoolingSource;
import soakbench.readiness.RecordedCooling;
import soakbench.thermal.EarlierTaus;

/**
 * What is known of other soaks: the newest {@link #KEPT} of each tracker, and which trackers share
 * a rack. Not thread-safe.
 *
 * <p>What is derived beside the live watches works on a {@link #copy}, which delegates to the live
 * ones once it has {@link #giveWayTo given way} to them.
 */
final class EarlierSoaks implements CoolingSource {
  /** So many of each tracker are kept. */
  static final int KEPT = EarlierTaus.MOST;

  private static final RackAndLot NOWHERE = new RackAndLot("", "");
  private static final Comparator<SoakSummary> NEWEST_FIRST =
      Comparator.comparingLong(SoakSummary::endUs).thenComparing(SoakSummary::soak).reversed();

  private final Map<String, TreeSet<SoakSummary>> byTracker = new HashMap<>();
  private final List<SoakSummary> given;
  private Map<String, RackAndLot> racksAndLots = Map.of();
  private Map<String, List<String>> byRack = Map.of();

  /** Soaks that people left out of the figures; nothing of them is kept. */
  private Set<String> leftOut = Set.of();

  /** Those that this one delegates to; null while it is used itself. */
  private EarlierSoaks live;

  /**
   * @param given soaks that the store does not know
   */
  EarlierSoaks(List<SoakSummary> given) {
    this.given = List.copyOf(given);
  }

  /** The same, to be changed apart from these. */
  EarlierSoaks copy() {
    EarlierSoaks copy = new EarlierSoaks(given);
    byTracker.forEach((tracker, its) -> copy.byTracker.put(tracker, new TreeSet<>(its)));
    copy.racksAndLots = racksAndLots;
    copy.byRack = byRack;
    copy.leftOut = leftOut;
    return copy;
  }

  /** Delegates all calls to these from now on. */
  void giveWayTo(EarlierSoaks live) {
    this.live = live;
    byTracker.clear();
  }

  /** Drops all and reads what is stored. */
  void read(SoakStore.Unit unit) {
    byTracker.clear();
    readTold(unit);
    unit.summaries(KEPT).forEach(this::put);
    given.forEach(this::put);
  }

  /** Reads what people said: where trackers lie and come from, and which soaks don't count. */
  void readTold(SoakStore.Unit unit) {
    leftOut = unit.leftOut();
    byTracker.values().forEach(its -> its.removeIf(s -> leftOut.contains(s.soak())));
    racksAndLots = unit.racksAndLots();
    byRack =
        racksAndLots.keySet().stream().collect(Collectors.groupingBy(t -> rackAndLot(t).rack()));
  }

  /** Adds a soak, or replaces what was known of it. */
  void put(SoakSummary summary) {
    if (live != null) {
      live.put(summary);
      return;
    }
    remove(summary.tracker(), summary.soak());
    if (leftOut.contains(summary.soak())) {
      return;
    }
    TreeSet<SoakSummary> its =
        byTracker.computeIfAbsent(summary.tracker(), t -> new TreeSet<>(NEWEST_FIRST));
    its.add(summary);
    if (its.size() > KEPT) {
      its.pollLast();
    }
  }

  void remove(String tracker, String soak) {
    if (live != null) {
      live.remove(tracker, soak);
      return;
    }
    of(tracker).removeIf(s -> s.soak().equals(soak));
  }

  private Set<SoakSummary> of(String tracker) {
    return byTracker.getOrDefault(tracker, new TreeSet<>(NEWEST_FIRST));
  }

  /**
   * The prior of the time constant of a soak that begins, from soaks that had ended: those on its
   * rack, or, where it has none, its own. Null where they give none.
   */
  TauPrior prior(String tracker, long startUs) {
    if (live != null) {
      return live.prior(tracker, startUs);
    }
    Stream<SoakSummary> there = onRack(tracker).stream().flatMap(t -> of(t).stream());
    List<Estimate> tausS =
        there
            .filter(s -> s.ended() && s.endUs() < startUs)
            .sorted(NEWEST_FIRST)
            .flatMap(s -> s.ownTauS().stream())
            .toList();
    return EarlierTaus.prior(tausS).orElse(null);
  }

  /** The trackers listed on the same rack, itself with them; itself alone where it has none. */
  private List<String> onRack(String tracker) {
    String rack = rackAndLot(tracker).rack();
    return rack.isEmpty() ? List.of(tracker) : byRack.get(rack);
  }

  private RackAndLot rackAndLot(String tracker) {
    return racksAndLots.getOrDefault(tracker, NOWHERE);
  }

  @Override
  public Optional<RecordedCooling> ofTracker(String tracker) {
    return live == null ? newest(Stream.of(tracker)) : live.ofTracker(tracker);
  }

  @Override
  public Optional<RecordedCooling> ofMates(String tracker) {
    if (live != null) {
      return live.ofMates(tracker);
    }
    RackAndLot mine = rackAndLot(tracker);
    return mine.lot().isEmpty()
        ? Optional.empty()
        : newest(
            onRack(tracker).stream()
                .filter(other -> !other.equals(tracker) && rackAndLot(other).equals(mine)));
  }

  private Optional<RecordedCooling> newest(Stream<String> trackers) {
    return trackers
        .flatMap(t -> of(t).stream())
        .filter(s -> !s.thermal().coolings().isEmpty())
        .min(NEWEST_FIRST)
        .map(s -> s.thermal().coolings())
        .map(its -> its.get(its.size() - 1));
  }
}
