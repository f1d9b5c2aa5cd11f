package soakbench.live.watch;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.function.Supplier;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;

/**
 * What follows from a tracker's new samples and has to be written with them: bins, soaks,
 * timelines, terms, summaries. Not thread-safe.
 */
public final class PendingWrites {
  final List<Bin> bins = new ArrayList<>();
  final Map<String, Soak> soaks = new LinkedHashMap<>();
  final Map<String, List<StateChange>> timelines = new LinkedHashMap<>();
  final Map<String, SoakTerms> terms = new LinkedHashMap<>();
  final Map<String, SoakSummary> summaries = new LinkedHashMap<>();

  /** Null where nobody wants summaries. */
  private final EarlierSoaks earlier;

  /**
   * @param earlier receives each summary at once, so that the next soak can use it
   */
  public PendingWrites(EarlierSoaks earlier) {
    this.earlier = earlier;
  }

  /** For what is stored already and only derived again to go on from it. */
  public PendingWrites() {
    this(null);
  }

  void soak(Soak soak) {
    soaks.put(soak.id(), soak);
  }

  /** What a soak that begins is judged by. */
  void terms(String soak, SoakTerms its) {
    terms.put(soak, its);
  }

  /** A soak ended; its summary, which costs a fit, is asked for where somebody wants it. */
  void ended(Supplier<SoakSummary> its) {
    if (earlier != null) {
      summary(its.get());
    }
  }

  void summary(SoakSummary summary) {
    if (earlier != null) {
      summaries.put(summary.soak(), summary);
      earlier.put(summary);
    }
  }

  void change(String soak, StateChange change) {
    timelines.computeIfAbsent(soak, s -> new ArrayList<>()).add(change);
  }

  /** Adds what another tracker's has, so that all of it is written together. */
  void add(PendingWrites other) {
    bins.addAll(other.bins);
    soaks.putAll(other.soaks);
    timelines.putAll(other.timelines);
    terms.putAll(other.terms);
    summaries.putAll(other.summaries);
  }

  boolean nothing() {
    return bins.isEmpty() && soaks.isEmpty() && timelines.isEmpty() && summaries.isEmpty();
  }

  /** Drops all of it, for it is written. */
  void clear() {
    bins.clear();
    soaks.clear();
    timelines.clear();
    terms.clear();
    summaries.clear();
  }

  /** Adds all of it to what is stored. */
  void write(SoakStore.Unit unit) {
    if (nothing()) {
      return;
    }
    writeAllButTimelines(unit);
    unit.appendTimelines(timelines);
  }

  /**
   * Writes all of it in place of what is stored of these soaks: where only the first second of one
   * is closed, it has no verdict yet, even if it had some while a clock had told a silence.
   *
   * @param before their timelines so far; what differs from them is marked revised
   */
  void replace(SoakStore.Unit unit, List<StateChange> before) {
    writeAllButTimelines(unit);
    Revision revision = new Revision(before, timelines.values());
    Set<String> judged = new LinkedHashSet<>(soaks.keySet());
    judged.addAll(timelines.keySet());
    for (String soak : judged) {
      List<StateChange> now = timelines.getOrDefault(soak, List.of());
      unit.replaceTimeline(soak, revision.marked(now));
    }
  }

  private void writeAllButTimelines(SoakStore.Unit unit) {
    unit.writeBins(bins);
    unit.writeSoaks(soaks.values());
    unit.writeTerms(terms);
    summaries.values().forEach(unit::writeSummary);
  }
}
