package soakbench.live.watch;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.function.Consumer;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * Derives a tracker's soaks again, from the one on that late samples touch to the one that begins
 * as it did before: later ones don't change. Seconds without late samples are taken from the stored
 * bins. A soak whose samples are no longer all stored is left as it is. Reads only, so it may run
 * beside the live watches, and takes its time. Not thread-safe.
 */
final class Rederivation {
  private static final long US_PER_S = 1_000_000L;

  /** So many changed bins are passed on at a time. */
  private static final int BINS = 2_000;

  private final SoakStore.Reader reader;
  private final SoakContext context;
  private final String tracker;
  private final StaleRange late;
  private final Consumer<List<Bin>> keep;
  private final List<Soak> stored;
  private final StoredTerms terms;
  private final TrackerWatch watch;
  private final PendingWrites out;
  private final Map<String, SoakTerms> judgedBy = new HashMap<>();
  private final Map<String, Long> counted = new HashMap<>();
  private int announced;

  /**
   * @param context with a copy of what is known of earlier soaks, which is changed
   * @param late the seconds in which samples came late
   * @param keep takes changed bins when they have become many
   */
  Rederivation(
      SoakStore.Reader reader,
      SoakContext context,
      String tracker,
      StaleRange late,
      Consumer<List<Bin>> keep) {
    this.reader = reader;
    this.context = context;
    this.tracker = tracker;
    this.late = late;
    this.keep = keep;
    this.stored = touched();
    this.terms = new StoredTerms(context.terms());
    this.watch = new TrackerWatch(tracker, context.with(terms));
    this.out = context.nothingYet();
  }

  /** The stored soaks from the one on that began last before the first late second. */
  private List<Soak> touched() {
    long fromUs = late.fromSecond() * US_PER_S;
    List<Soak> near = reader.soaks(tracker, fromUs - SoakCutter.SILENCE_ENDS_US);
    int first = 0;
    for (int i = 0; i < near.size(); i++) {
      first = near.get(i).startSecond() < late.fromSecond() ? i : first;
    }
    return near.isEmpty() ? near : near.subList(first, near.size());
  }

  /**
   * What would have been derived had all samples come in time.
   *
   * @param closedSecond the last second that the live watch has closed; later ones are left to it
   */
  RederivedSoaks until(long closedSecond) {
    StoredSeconds seconds = new StoredSeconds(reader, tracker, late, stored);
    List<Soak> again = new ArrayList<>();
    List<Soak> lost = new ArrayList<>();
    long from = late.fromSecond();
    for (Soak soak : stored) {
      if (soak.startSecond() > closedSecond) {
        break;
      }
      announceTerms(stored.indexOf(soak));
      seconds.eachBetween(from, soak.startSecond() - 1, this::take);
      if (after(soak) && watch.silentBefore(soak.startUs())) {
        watch.endBefore(soak.startUs(), out);
        return result(again, lost, false, closedSecond);
      }
      announce(soak);
      if (lost(soak)) {
        watch.endBefore(soak.startUs(), out);
        lost.add(soak);
      } else if (again(soak, seconds, Math.min(soak.endSecond(), closedSecond))) {
        again.add(soak);
      } else {
        return result(again, lost, false, closedSecond);
      }
      from = soak.endSecond() + 1;
    }
    seconds.eachBetween(from, closedSecond, this::take);
    boolean lostLast = !lost.isEmpty() && lost.get(lost.size() - 1).endSecond() == from - 1;
    return result(again, lost, !lostLast, closedSecond);
  }

  private boolean after(Soak soak) {
    return soak.startSecond() > late.toSecond();
  }

  /** Takes a stored soak's seconds; false where it begins as before, so that nothing changes. */
  private boolean again(Soak soak, StoredSeconds seconds, long toSecond) {
    return seconds.each(
        soak.startSecond(),
        toSecond,
        second -> {
          Bin bin = second.bin();
          boolean asBefore = after(soak) && bin.firstUs() == soak.startUs();
          if (asBefore && watch.begins(bin, second.rebooted())) {
            watch.endBefore(bin, second.rebooted(), out);
            return false;
          }
          return take(second);
        });
  }

  private boolean take(StoredSeconds.Second second) {
    Bin placed = watch.place(second.bin(), 0, second.rebooted(), out);
    if (second.made() || placed.boot() != second.stored().boot()) {
      out.bins.add(placed);
    }
    if (out.bins.size() >= BINS) {
      keep.accept(List.copyOf(out.bins));
      out.bins.clear();
    }
    return true;
  }

  /** Announces how a stored soak ended and by what terms the next was judged. */
  private void announce(Soak soak) {
    announceTerms(stored.indexOf(soak) + 1);
    if (soak.givenEnd()) {
      boolean silent = silentAtEnd(reader.timeline(soak.id()));
      watch.endedAt(soak.endUs(), soak.ended(), silent);
    }
    context.earlier().remove(tracker, soak.id());
  }

  /** A soak whose start late samples move keeps its terms: they are known before its seconds. */
  private void announceTerms(int upTo) {
    for (; announced <= Math.min(upTo, stored.size() - 1); announced++) {
      Soak known = stored.get(announced);
      reader.terms(known.id()).ifPresent(its -> announce(known, its));
    }
  }

  private void announce(Soak soak, SoakTerms its) {
    terms.add(soak, its);
    judgedBy.put(soak.id(), its);
  }

  private static boolean silentAtEnd(List<StateChange> timeline) {
    return !timeline.isEmpty() && timeline.get(timeline.size() - 1).state() == State.SILENT;
  }

  /** Whether samples that a soak was derived from are no longer stored. */
  private boolean lost(Soak soak) {
    OptionalLong firstUs = reader.nextSampleUs(tracker, soak.startUs());
    return !soak.samplesKept()
        || firstUs.isEmpty()
        || firstUs.getAsLong() != soak.startUs()
        || count(soak) < soak.samples();
  }

  private long count(Soak soak) {
    long toUs = (soak.endSecond() + 1) * US_PER_S;
    return counted.computeIfAbsent(
        soak.startUs() + " " + toUs, range -> reader.countSamples(tracker, soak.startUs(), toUs));
  }

  private RederivedSoaks result(
      List<Soak> again, List<Soak> lost, boolean goesOn, long closedSecond) {
    out.soaks.replaceAll((id, soak) -> soak.withSamples(count(soak)));
    watch.run().ifPresent(run -> watch.samples(out.soaks.get(run.id()).samples()));
    SoakTerms newest = again.isEmpty() ? null : judgedBy.get(again.get(again.size() - 1).id());
    long fedSecond = closedSecond == Long.MIN_VALUE ? late.fromSecond() - 1 : closedSecond;
    return new RederivedSoaks(watch, out, again, lost, newest, goesOn, fedSecond);
  }
}
