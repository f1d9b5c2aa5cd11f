package soakbench.live.memory;

import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.stream.Stream;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;

/** Reads a {@link MemoryTables}: each call sees a consistent state. */
class MemoryReader implements SoakStore.Reader {
  final MemoryTables tables;

  MemoryReader(MemoryTables tables) {
    this.tables = tables;
  }

  @Override
  public List<Sample> samples(String tracker, long fromUs, long toUs) {
    checkOpen();
    synchronized (tables) {
      tables.checkKept(tracker, fromUs);
      return between(tables.samples, tracker, fromUs, toUs);
    }
  }

  @Override
  public OptionalLong nextSampleUs(String tracker, long fromUs) {
    checkOpen();
    synchronized (tables) {
      tables.checkKept(tracker, fromUs);
      NavigableMap<Long, Sample> series = tables.samples.get(tracker);
      Long nextUs = series == null ? null : series.ceilingKey(fromUs);
      return nextUs == null ? OptionalLong.empty() : OptionalLong.of(nextUs);
    }
  }

  @Override
  public OptionalLong lastSampleUs(String tracker, long toUs) {
    checkOpen();
    synchronized (tables) {
      NavigableMap<Long, Sample> series = tables.samples.get(tracker);
      Long lastUs = series == null ? null : series.lowerKey(toUs);
      return lastUs == null ? OptionalLong.empty() : OptionalLong.of(lastUs);
    }
  }

  @Override
  public long countSamples(String tracker, long fromUs, long toUs) {
    return samples(tracker, fromUs, toUs).size();
  }

  @Override
  public List<Bin> bins(String tracker, long fromSecond, long toSecond) {
    checkOpen();
    synchronized (tables) {
      return between(tables.bins, tracker, fromSecond, toSecond);
    }
  }

  @Override
  public Optional<SoakTerms> terms(String soak) {
    checkOpen();
    synchronized (tables) {
      return Optional.ofNullable(tables.terms.get(soak));
    }
  }

  @Override
  public List<Soak> soaks(String tracker, long fromUs) {
    checkOpen();
    synchronized (tables) {
      return byStart().filter(s -> s.tracker().equals(tracker) && s.endUs() >= fromUs).toList();
    }
  }

  @Override
  public List<StateChange> timeline(String soak) {
    checkOpen();
    synchronized (tables) {
      return tables.timelines.getOrDefault(soak, List.of());
    }
  }

  @Override
  public Optional<StaleRange> stale(String tracker) {
    checkOpen();
    synchronized (tables) {
      return Optional.ofNullable(tables.stale.get(tracker));
    }
  }

  @Override
  public List<String> staleTrackers() {
    checkOpen();
    synchronized (tables) {
      return List.copyOf(tables.stale.keySet());
    }
  }

  @Override
  public void close() {
    // Nothing is held between two calls.
  }

  final Stream<Soak> byStart() {
    return tables.soaks.values().stream().sorted(Comparator.comparingLong(Soak::startUs));
  }

  /**
   * @throws IllegalStateException if nothing may be asked any more
   */
  void checkOpen() {
    // A reader is never closed.
  }

  private static <V> List<V> between(
      Map<String, NavigableMap<Long, V>> all, String tracker, long from, long to) {
    NavigableMap<Long, V> series = all.get(tracker);
    if (series == null || from >= to) {
      return List.of();
    }
    return List.copyOf(series.subMap(from, true, to, false).values());
  }
}
