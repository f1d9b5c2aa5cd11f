package soakbench.live.watch;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.Predicate;
import java.util.stream.Collectors;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;

/**
 * Reads a tracker's closed seconds again: those in which samples came late are made anew, the
 * others are taken as they are stored. Time in which nothing lies is passed over. Not thread-safe.
 */
final class StoredSeconds {
  /** So much is read at a time. */
  private static final long READ_S = 600;

  private static final long US_PER_S = 1_000_000L;

  private final SoakStore.Reader reader;
  private final String tracker;
  private final StaleRange late;
  private final Set<Long> starts;
  private RebootDetector boots = new RebootDetector();
  private long countedSecond = Long.MIN_VALUE;
  private Second before;

  /**
   * One second.
   *
   * @param bin what it shows; its count of reboots is not to be relied on
   * @param rebooted whether the tracker rebooted before it or in it
   * @param stored what is stored of it, null where that is nothing
   * @param made whether it was made anew
   */
  record Second(Bin bin, boolean rebooted, Bin stored, boolean made) {}

  /**
   * @param late the seconds that are made anew
   * @param soaks those stored: across the start of one, stored bins don't show reboots
   */
  StoredSeconds(SoakStore.Reader reader, String tracker, StaleRange late, List<Soak> soaks) {
    this.reader = reader;
    this.tracker = tracker;
    this.late = late;
    this.starts = soaks.stream().map(Soak::startSecond).collect(Collectors.toSet());
  }

  /**
   * Passes the seconds of a stored soak with {@code fromSecond <= second <= toSecond}, by time,
   * until one is not wanted.
   *
   * @return whether all were wanted
   */
  boolean each(long fromSecond, long toSecond, Predicate<Second> taker) {
    for (long from = fromSecond; from <= toSecond; from += READ_S) {
      long to = Math.min(toSecond, from + READ_S - 1);
      if (!all(reader.bins(tracker, from, to + 1), samples(from, to), taker)) {
        return false;
      }
    }
    return true;
  }

  /** Passes the seconds between stored soaks: there only late samples lie. */
  void eachBetween(long fromSecond, long toSecond, Predicate<Second> taker) {
    long end = Math.min(toSecond, late.toSecond());
    long from = nextLate(Math.max(fromSecond, late.fromSecond()), end);
    while (from <= end) {
      long to = Math.min(end, from + READ_S - 1);
      all(List.of(), samples(from, to), taker);
      from = nextLate(to + 1, end);
    }
  }

  private long nextLate(long fromSecond, long end) {
    if (fromSecond > end) {
      return Long.MAX_VALUE;
    }
    OptionalLong nextUs = reader.nextSampleUs(tracker, fromSecond * US_PER_S);
    return nextUs.isEmpty() ? Long.MAX_VALUE : Math.floorDiv(nextUs.getAsLong(), US_PER_S);
  }

  private List<Sample> samples(long fromSecond, long toSecond) {
    long from = Math.max(fromSecond, late.fromSecond());
    long to = Math.min(toSecond, late.toSecond());
    return from > to ? List.of() : reader.samples(tracker, from * US_PER_S, (to + 1) * US_PER_S);
  }

  private boolean all(List<Bin> bins, List<Sample> samples, Predicate<Second> taker) {
    Map<Long, Bin> stored = new TreeMap<>();
    bins.forEach(bin -> stored.put(bin.second(), bin));
    Map<Long, OpenBin> anew = new TreeMap<>();
    samples.forEach(s -> anew.computeIfAbsent(s.second(), at -> new OpenBin(tracker, at)).add(s));
    Set<Long> seconds = new TreeSet<>(stored.keySet());
    seconds.addAll(anew.keySet());
    for (long second : new ArrayList<>(seconds)) {
      OpenBin made = anew.get(second);
      Second next = made == null ? asStored(stored.get(second)) : made(made, stored.get(second));
      if (!taker.test(next)) {
        return false;
      }
      before = next;
    }
    return true;
  }

  private Second made(OpenBin made, Bin stored) {
    Bin bin = made.close(0);
    return new Second(bin, rebooted(bin.second(), made.inOrder()), stored, true);
  }

  private Second asStored(Bin bin) {
    if (before != null && !before.made() && !starts.contains(bin.second())) {
      return new Second(bin, bin.boot() != before.stored().boot(), bin, false);
    }
    // What is stored counts reboots within its soak, and from a second that may be another now.
    long fromUs = bin.second() * US_PER_S;
    List<Sample> its = reader.samples(tracker, fromUs, fromUs + US_PER_S);
    return new Second(bin, rebooted(bin.second(), its), bin, false);
  }

  private boolean rebooted(long second, List<Sample> samples) {
    if (before != null && before.bin().second() != countedSecond) {
      boots = new RebootDetector();
      long fromUs = before.bin().second() * US_PER_S;
      reader.samples(tracker, fromUs, fromUs + US_PER_S).forEach(boots::rebooted);
    }
    boolean rebooted = false;
    for (Sample s : samples) {
      rebooted |= boots.rebooted(s);
    }
    countedSecond = second;
    return rebooted;
  }
}
