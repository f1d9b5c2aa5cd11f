package soakbench.live.memory;

import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.NavigableMap;
import java.util.TreeMap;
import soakbench.live.KeptJudge;
import soakbench.live.SoakSummary;
import soakbench.live.StaleRange;
import soakbench.model.Bin;
import soakbench.model.LimitsChange;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;

/** What a {@link MemoryStore} holds. Its lock is held while any of it is read or changed. */
public final class MemoryTables {
  public final Map<String, NavigableMap<Long, Sample>> samples = new HashMap<>();
  public final Map<String, NavigableMap<Long, Sample>> aside = new HashMap<>();
  public final Map<String, NavigableMap<Long, Bin>> bins = new HashMap<>();
  public final Map<String, Soak> soaks = new TreeMap<>();
  public final Map<String, List<StateChange>> timelines = new HashMap<>();
  public final Map<String, SoakTerms> terms = new HashMap<>();
  public final NavigableMap<Integer, LimitsChange> limits = new TreeMap<>();

  /** Which of them hold for soaks that were under way as well. */
  public final NavigableMap<Integer, Boolean> limitsForSoaks = new TreeMap<>();

  public final Map<String, SoakSummary> summaries = new TreeMap<>();
  public final Map<String, StaleRange> stale = new TreeMap<>();
  final Map<String, KeptJudge> judges = new HashMap<>();
  final NavigableMap<Imported, Boolean> imported = new TreeMap<>(Imported.ORDER);

  /** A sample that came by an import. */
  record Imported(long imported, String tracker, long timeUs) {
    static final Comparator<Imported> ORDER =
        Comparator.comparingLong(Imported::imported)
            .thenComparing(Imported::tracker)
            .thenComparingLong(Imported::timeUs);
  }

  private static final long KEEP_US = 60_000_000L;

  private final Map<String, Long> forgottenUs = new HashMap<>();
  private final boolean forgetful;
  private boolean unitOpen;

  /**
   * @param forgetful whether only the last minute of each tracker's samples is kept
   */
  MemoryTables(boolean forgetful) {
    this.forgetful = forgetful;
  }

  /**
   * @throws IllegalStateException if another unit is open
   */
  synchronized void openUnit() {
    if (unitOpen) {
      throw new IllegalStateException("a unit of work is open already; close it first");
    }
    unitOpen = true;
  }

  synchronized void unitClosed() {
    unitOpen = false;
  }

  /** Drops what is older than is kept. */
  synchronized void forget(String tracker) {
    if (forgetful) {
      NavigableMap<Long, Sample> series = samples.get(tracker);
      long fromUs = series.lastKey() - KEEP_US;
      series.headMap(fromUs, false).clear();
      forgottenUs.merge(tracker, fromUs, Math::max);
    }
  }

  void checkKept(String tracker, long fromUs) {
    Long keptFromUs = forgottenUs.get(tracker);
    if (keptFromUs != null && fromUs < keptFromUs) {
      throw new IllegalStateException(
          tracker + ": samples before " + keptFromUs + " us are no longer kept, asked " + fromUs);
    }
  }
}
