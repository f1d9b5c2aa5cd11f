package soakbench.live;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import soakbench.model.Bench;
import soakbench.model.Bin;
import soakbench.model.LimitsChange;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;

/** A unit of work on a {@link MemoryStore}: changes the maps at once, and back unless committed. */
final class MemoryUnit extends MemoryLook implements SoakStore.Unit {
  private final Undo undo;
  private final Set<String> written = new HashSet<>();
  private boolean closed;

  MemoryUnit(MemoryStore store) {
    super(store);
    this.undo = new Undo(store);
  }

  @Override
  public SoakStore.Written writeSamples(List<Sample> samples) {
    checkOpen();
    synchronized (store) {
      return written(samples);
    }
  }

  private SoakStore.Written written(List<Sample> samples) {
    List<Sample> fresh = new ArrayList<>(samples.size());
    int duplicate = 0;
    int conflicting = 0;
    for (Sample sample : samples) {
      store.checkKept(sample.tracker(), sample.timeUs());
      NavigableMap<Long, Sample> series = series(store.samples, sample.tracker());
      Sample stored = series.get(sample.timeUs());
      if (sample.equals(aside(sample))) {
        stored = sample;
      }
      if (stored == null) {
        undo.put(series, sample.timeUs(), sample);
        fresh.add(sample);
        written.add(sample.tracker());
      } else if (stored.equals(sample)) {
        duplicate++;
      } else {
        conflicting++;
      }
    }
    return new SoakStore.Written(List.copyOf(fresh), duplicate, conflicting);
  }

  private Sample aside(Sample sample) {
    NavigableMap<Long, Sample> series = store.aside.get(sample.tracker());
    return series == null ? null : series.get(sample.timeUs());
  }

  @Override
  public void setAside(String tracker, long fromUs, long toUs, Set<Long> butUs) {
    for (Sample s : samples(tracker, fromUs, toUs)) {
      if (!butUs.contains(s.timeUs())) {
        synchronized (store) {
          undo.put(series(store.aside, tracker), s.timeUs(), s);
          undo.remove(series(store.samples, tracker), s.timeUs());
        }
      }
    }
  }

  @Override
  public void deleteBins(String tracker, long fromSecond, long toSecond) {
    for (Bin bin : bins(tracker, fromSecond, toSecond)) {
      undo.remove(series(store.bins, tracker), bin.second());
    }
  }

  @Override
  public void writeBins(List<Bin> bins) {
    checkOpen();
    synchronized (store) {
      bins.forEach(b -> undo.put(series(store.bins, b.tracker()), b.second(), b));
    }
  }

  @Override
  public void writeSoak(Soak soak) {
    checkOpen();
    Soak before = store.soaks.get(soak.id());
    boolean lost = before != null && !before.samplesKept();
    undo.put(store.soaks, soak.id(), lost ? soak.withoutSamples() : soak);
  }

  @Override
  public void writeTerms(String soak, SoakTerms terms) {
    checkOpen();
    undo.put(store.terms, soak, terms);
  }

  @Override
  public void adoptTerms(SoakTerms terms) {
    checkOpen();
    for (String soak : store.soaks.keySet()) {
      if (!store.terms.containsKey(soak)) {
        undo.put(store.terms, soak, terms);
      }
    }
  }

  @Override
  public void addLimits(LimitsChange change) {
    checkOpen();
    undo.put(store.limits, store.limits.size(), change);
  }

  @Override
  public Optional<LimitsChange> newestLimits() {
    checkOpen();
    return Optional.ofNullable(store.limits.lastEntry()).map(Map.Entry::getValue);
  }

  @Override
  public void writeSummary(SoakSummary summary) {
    checkOpen();
    undo.put(store.summaries, summary.soak(), summary);
  }

  @Override
  public List<SoakSummary> summaries(int most) {
    checkOpen();
    Map<String, Integer> taken = new HashMap<>();
    return byStart()
        .sorted(Comparator.comparingLong(Soak::endUs).thenComparing(Soak::id).reversed())
        .filter(s -> store.summaries.containsKey(s.id()))
        .filter(s -> taken.merge(s.tracker(), 1, Integer::sum) <= most)
        .sorted(Comparator.comparing(Soak::id))
        .map(s -> store.summaries.get(s.id()).of(s))
        .toList();
  }

  @Override
  public Map<String, Bench> benches() {
    checkOpen();
    return Map.of();
  }

  @Override
  public void deleteSoak(String soak) {
    checkOpen();
    undo.remove(store.soaks, soak);
    undo.remove(store.terms, soak);
    undo.remove(store.summaries, soak);
    undo.remove(store.timelines, soak);
  }

  @Override
  public List<Soak> lastSoaks() {
    checkOpen();
    Map<String, Soak> last = new TreeMap<>();
    byStart().forEach(s -> last.merge(s.tracker(), s, (a, b) -> a.open() && !b.open() ? a : b));
    return List.copyOf(last.values());
  }

  @Override
  public void appendTimeline(String soak, List<StateChange> changes) {
    List<StateChange> all = new ArrayList<>(timeline(soak));
    all.addAll(changes);
    replaceTimeline(soak, all);
  }

  @Override
  public void replaceTimeline(String soak, List<StateChange> changes) {
    checkOpen();
    undo.put(store.timelines, soak, List.copyOf(changes));
  }

  @Override
  public void markStale(String tracker, StaleRange seconds) {
    undo.put(store.stale, tracker, stale(tracker).map(seconds::and).orElse(seconds));
  }

  @Override
  public void clearStale(String tracker) {
    checkOpen();
    undo.remove(store.stale, tracker);
  }

  @Override
  public void commit() {
    checkOpen();
    undo.forget();
    written.forEach(store::forget);
    written.clear();
  }

  @Override
  public void close() {
    if (!closed) {
      closed = true;
      undo.rollBack();
      store.unitClosed();
    }
  }

  @Override
  void checkOpen() {
    if (closed) {
      throw new IllegalStateException("this unit of work is closed; begin another");
    }
  }

  private static <V> NavigableMap<Long, V> series(
      Map<String, NavigableMap<Long, V>> all, String tracker) {
    return all.computeIfAbsent(tracker, id -> new TreeMap<>());
  }
}
