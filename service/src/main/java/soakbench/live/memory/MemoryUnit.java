package soakbench.live.memory;

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
import soakbench.live.ImportedStretch;
import soakbench.live.KeptJudge;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.live.StaleRange;
import soakbench.live.memory.MemoryTables.Imported;
import soakbench.model.Bin;
import soakbench.model.LimitsChange;
import soakbench.model.RackAndLot;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;

/**
 * A unit of work on a {@link MemoryTables}: changes the maps at once, and rolls back unless
 * committed.
 */
final class MemoryUnit extends MemoryReader implements SoakStore.Unit {
  private final Undo undo;
  private final Set<String> written = new HashSet<>();
  private boolean closed;

  MemoryUnit(MemoryTables tables) {
    super(tables);
    this.undo = new Undo(tables);
  }

  @Override
  public SoakStore.Written writeSamples(List<Sample> samples) {
    checkOpen();
    synchronized (tables) {
      return written(samples);
    }
  }

  private SoakStore.Written written(List<Sample> samples) {
    List<Sample> fresh = new ArrayList<>(samples.size());
    int duplicate = 0;
    int conflicting = 0;
    for (Sample sample : samples) {
      tables.checkKept(sample.tracker(), sample.timeUs());
      NavigableMap<Long, Sample> series = series(tables.samples, sample.tracker());
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
    NavigableMap<Long, Sample> series = tables.aside.get(sample.tracker());
    return series == null ? null : series.get(sample.timeUs());
  }

  @Override
  public void setAside(String tracker, long fromUs, long toUs, Set<Long> butUs) {
    for (Sample s : samples(tracker, fromUs, toUs)) {
      if (!butUs.contains(s.timeUs())) {
        synchronized (tables) {
          undo.put(series(tables.aside, tracker), s.timeUs(), s);
          undo.remove(series(tables.samples, tracker), s.timeUs());
        }
      }
    }
  }

  @Override
  public void noteImported(long imported, List<Sample> samples) {
    for (Sample s : samples) {
      undo.put(tables.imported, new Imported(imported, s.tracker(), s.timeUs()), true);
    }
  }

  @Override
  public Optional<ImportedStretch> nextImported(long imported, String after) {
    Imported first = tables.imported.higherKey(new Imported(imported, after, Long.MAX_VALUE));
    if (first == null || first.imported() != imported) {
      return Optional.empty();
    }
    long toUs =
        soaks(first.tracker(), first.timeUs()).stream()
            .filter(s -> s.startUs() <= first.timeUs())
            .mapToLong(Soak::endUs)
            .max()
            .orElse(first.timeUs());
    return Optional.of(new ImportedStretch(first.tracker(), first.timeUs(), toUs));
  }

  private NavigableMap<Imported, Boolean> imported(long imported, ImportedStretch stretch) {
    return tables.imported.subMap(
        new Imported(imported, stretch.tracker(), stretch.fromUs()),
        true,
        new Imported(imported, stretch.tracker(), stretch.toUs()),
        true);
  }

  @Override
  public long countImported(long imported, ImportedStretch stretch) {
    return imported(imported, stretch).size();
  }

  @Override
  public long takeOut(long imported, ImportedStretch stretch) {
    List<Imported> notes = List.copyOf(imported(imported, stretch).keySet());
    for (Imported note : notes) {
      undo.remove(series(tables.samples, note.tracker()), note.timeUs());
      undo.remove(series(tables.aside, note.tracker()), note.timeUs());
      undo.remove(tables.imported, note);
    }
    return notes.size();
  }

  @Override
  public SoakStore.Moved moveSamples(String tracker, String into, long fromUs, long toUs) {
    long moved = 0;
    long aside = 0;
    for (Sample s : samples(tracker, fromUs, toUs)) {
      Sample its = s.of(into);
      boolean free = !series(tables.samples, into).containsKey(s.timeUs());
      undo.remove(series(tables.samples, tracker), s.timeUs());
      undo.put(
          series(free ? tables.samples : tables.aside, free ? into : tracker),
          s.timeUs(),
          free ? its : s);
      moved += free ? 1 : 0;
      aside += free ? 0 : 1;
      moveNote(s, free ? into : null);
    }
    return new SoakStore.Moved(moved, aside);
  }

  private void moveNote(Sample sample, String into) {
    tables.imported.keySet().stream()
        .filter(n -> n.tracker().equals(sample.tracker()) && n.timeUs() == sample.timeUs())
        .toList()
        .forEach(
            note -> {
              undo.remove(tables.imported, note);
              if (into != null) {
                undo.put(tables.imported, new Imported(note.imported(), into, note.timeUs()), true);
              }
            });
  }

  @Override
  public void moveSoak(Soak soak, Soak other) {
    List<Bin> bins = bins(soak);
    deleteBins(soak.tracker(), soak.startSecond(), soak.endSecond() + 1);
    writeBins(bins.stream().map(b -> b.of(other.tracker())).toList());
    terms(soak.id()).ifPresent(its -> writeTerms(other.id(), its));
    replaceTimeline(other.id(), timeline(soak.id()));
    SoakSummary summary = tables.summaries.get(soak.id());
    if (summary != null) {
      writeSummary(SoakSummary.of(other, summary.thermal()));
    }
    deleteSoak(soak.id());
    writeSoak(other);
  }

  @Override
  public void deleteBins(String tracker, long fromSecond, long toSecond) {
    soaks(tracker, Long.MIN_VALUE).forEach(soak -> undo.remove(tables.judges, soak.id()));
    for (Bin bin : bins(tracker, fromSecond, toSecond)) {
      undo.remove(series(tables.bins, tracker), bin.second());
    }
  }

  @Override
  public void writeBins(List<Bin> bins) {
    checkOpen();
    synchronized (tables) {
      bins.forEach(b -> undo.put(series(tables.bins, b.tracker()), b.second(), b));
    }
  }

  @Override
  public void writeSoak(Soak soak) {
    checkOpen();
    Soak before = tables.soaks.get(soak.id());
    boolean lost = before != null && !before.samplesKept();
    undo.put(tables.soaks, soak.id(), lost ? soak.withoutSamples() : soak);
    if (!soak.open()) {
      undo.remove(tables.judges, soak.id());
    }
  }

  @Override
  public void writeTerms(String soak, SoakTerms terms) {
    checkOpen();
    undo.put(tables.terms, soak, terms);
  }

  @Override
  public void adoptTerms(SoakTerms terms) {
    checkOpen();
    for (String soak : tables.soaks.keySet()) {
      if (!tables.terms.containsKey(soak)) {
        undo.put(tables.terms, soak, terms);
      }
    }
  }

  @Override
  public void addLimits(LimitsChange change) {
    checkOpen();
    undo.put(tables.limits, tables.limits.size(), change);
  }

  /** Nobody else works on it. */
  @Override
  public void holdLimits() {
    checkOpen();
  }

  @Override
  public void limitsForSoaks() {
    checkOpen();
    undo.put(tables.limitsForSoaks, tables.limits.size() - 1, true);
  }

  @Override
  public boolean areLimitsForSoaks() {
    checkOpen();
    return tables.limitsForSoaks.containsKey(tables.limits.size() - 1);
  }

  @Override
  public Optional<LimitsChange> newestLimits() {
    checkOpen();
    return Optional.ofNullable(tables.limits.lastEntry()).map(Map.Entry::getValue);
  }

  @Override
  public void writeSummary(SoakSummary summary) {
    checkOpen();
    undo.put(tables.summaries, summary.soak(), summary);
  }

  @Override
  public List<SoakSummary> summaries(int most) {
    checkOpen();
    Map<String, Integer> taken = new HashMap<>();
    return byStart()
        .sorted(Comparator.comparingLong(Soak::endUs).thenComparing(Soak::id).reversed())
        .filter(s -> tables.summaries.containsKey(s.id()))
        .filter(s -> taken.merge(s.tracker(), 1, Integer::sum) <= most)
        .sorted(Comparator.comparing(Soak::id))
        .map(s -> SoakSummary.of(s, tables.summaries.get(s.id()).thermal()))
        .toList();
  }

  @Override
  public Set<String> leftOut() {
    return Set.of();
  }

  @Override
  public Map<String, RackAndLot> racksAndLots() {
    checkOpen();
    return Map.of();
  }

  @Override
  public void keepJudge(KeptJudge judge) {
    checkOpen();
    if (tables.soaks.containsKey(judge.soak())) {
      undo.put(tables.judges, judge.soak(), judge);
    }
  }

  @Override
  public Optional<KeptJudge> keptJudge(Soak soak, String program) {
    checkOpen();
    return Optional.ofNullable(tables.judges.get(soak.id()))
        .filter(kept -> kept.program().equals(program))
        .filter(kept -> given(soak, kept));
  }

  private boolean given(Soak soak, KeptJudge kept) {
    List<Bin> bins = bins(soak.tracker(), soak.startSecond(), kept.second() + 1);
    return bins.size() == kept.bins()
        && bins.stream().mapToLong(Bin::readings).sum() == kept.readings();
  }

  @Override
  public void deleteSoak(String soak) {
    checkOpen();
    undo.remove(tables.soaks, soak);
    undo.remove(tables.terms, soak);
    undo.remove(tables.summaries, soak);
    undo.remove(tables.timelines, soak);
    undo.remove(tables.judges, soak);
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
    checkOpen();
    undo.put(tables.timelines, soak, List.copyOf(all));
  }

  @Override
  public void replaceTimeline(String soak, List<StateChange> changes) {
    checkOpen();
    undo.put(tables.timelines, soak, List.copyOf(changes));
    undo.remove(tables.judges, soak);
  }

  @Override
  public void markStale(Map<String, StaleRange> seconds) {
    seconds.forEach(
        (tracker, its) ->
            undo.put(tables.stale, tracker, stale(tracker).map(its::and).orElse(its)));
  }

  @Override
  public void clearStale(String tracker) {
    checkOpen();
    undo.remove(tables.stale, tracker);
  }

  @Override
  public void commit() {
    checkOpen();
    undo.forget();
    written.forEach(tables::forget);
    written.clear();
  }

  @Override
  public void close() {
    if (!closed) {
      closed = true;
      undo.rollBack();
      tables.unitClosed();
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
