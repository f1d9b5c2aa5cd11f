package soakbench.live.watch;

import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.SoakStore;
import soakbench.model.Bin;
import soakbench.model.Sample;
import soakbench.model.Soak;

/**
 * Cuts a tracker's soak where its clock was set back. What the clock of before had stamped from the
 * second on in which the new one begins is set aside: two clocks are never mixed in one bin.
 */
final class ClockCut {
  private static final Logger LOG = LoggerFactory.getLogger(ClockCut.class);
  private static final long US_PER_S = 1_000_000L;

  private final SoakStore.Unit unit;
  private final SoakContext context;
  private final Set<Sample> stored;

  /**
   * @param stored what is stored in this unit; what is not, has a timestamp that a sample of the
   *     clock before has already
   */
  ClockCut(SoakStore.Unit unit, SoakContext context, Set<Sample> stored) {
    this.unit = unit;
    this.context = context;
    this.stored = stored;
  }

  /**
   * The watch of the soak that begins with the clock's new time.
   *
   * @param before that of the soak under way, which ends; all of it is written
   * @param rest what comes by the new time after what showed it
   */
  TrackerWatch of(TrackerWatch before, List<Sample> rest) {
    PendingWrites out = context.nothingYet();
    before.closeBefore(Long.MAX_VALUE, out);
    List<Sample> stream = new ArrayList<>(before.clockStep().stream());
    long fromUs = stream.get(0).timeUs();
    log(before.tracker(), before.newestUs() - stream.get(stream.size() - 1).timeUs());
    before.endClockSet(out);
    out.write(unit);
    Set<Long> itsUs = new HashSet<>(before.clockStep().storedUs());
    rest.stream().filter(stored::contains).forEach(s -> itsUs.add(s.timeUs()));
    cut(before.tracker(), fromUs, itsUs);
    stream.addAll(rest);
    return begun(before.tracker(), stream);
  }

  private TrackerWatch begun(String tracker, List<Sample> stream) {
    TrackerWatch watch = new TrackerWatch(tracker, context);
    watch.passes(later(tracker, stream.get(0).timeUs()));
    // Where the clock before had said the same time, they come to be stored only now.
    unit.writeSamples(stream);
    PendingWrites out = context.nothingYet();
    stream.forEach(sample -> watch.accept(sample, out));
    out.write(unit);
    return watch;
  }

  private static void log(String tracker, long byUs) {
    LOG.warn(
        "{}: its clock was set back by {} s; its soak is cut there, what comes begins another",
        tracker,
        Math.round(byUs / 1e6));
  }

  private List<Soak> later(String tracker, long fromUs) {
    return unit.soaks(tracker, fromUs).stream().filter(s -> s.startUs() > fromUs).toList();
  }

  /** Takes from the soak that holds the new time what it has from there on. */
  private void cut(String tracker, long fromUs, Set<Long> itsUs) {
    long second = Math.floorDiv(fromUs, US_PER_S);
    for (Soak soak : unit.soaks(tracker, second * US_PER_S)) {
      if (soak.startSecond() < second) {
        unit.setAside(tracker, second * US_PER_S, soak.endUs() + 1, itsUs);
        unit.deleteBins(tracker, second, soak.endSecond() + 1);
        shorten(soak, second);
      }
    }
  }

  private void shorten(Soak soak, long beforeSecond) {
    StoredTerms terms = new StoredTerms(context.terms());
    unit.terms(soak.id()).ifPresent(its -> terms.add(soak, its));
    TrackerWatch watch = new TrackerWatch(soak.tracker(), context.with(terms));
    PendingWrites out = context.nothingYet();
    for (Bin bin : unit.bins(soak.tracker(), soak.startSecond(), beforeSecond)) {
      watch.replay(bin, 0, out);
    }
    watch.samples(unit.countSamples(soak.tracker(), soak.startUs(), beforeSecond * US_PER_S));
    watch.endClockSet(out);
    // What it was judged by stays.
    out.terms.clear();
    out.replace(unit, unit.timeline(soak.id()));
  }
}
