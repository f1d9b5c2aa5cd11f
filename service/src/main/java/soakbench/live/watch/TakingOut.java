package soakbench.live.watch;

import java.util.List;
import java.util.OptionalLong;
import soakbench.live.ImportedStretch;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;
import soakbench.model.Soak;

/**
 * Takes samples of an import out of one tracker's soaks, and derives again what is left of them, as
 * if they had never come. Within the caller's unit of work.
 */
final class TakingOut {
  private static final long US_PER_S = 1_000_000L;

  private final SoakStore.Unit unit;
  private final SoakContext context;

  TakingOut(SoakStore.Unit unit, SoakContext context) {
    this.unit = unit;
    this.context = context;
  }

  /** Returns how many samples there were. */
  long of(long imported, ImportedStretch stretch) {
    String tracker = stretch.tracker();
    List<Soak> touched =
        unit.soaks(tracker, stretch.fromUs()).stream()
            .filter(s -> s.startUs() <= stretch.toUs())
            .toList();
    List<Soak> allOfIt = touched.stream().filter(s -> isAll(imported, s)).toList();
    List<Soak> whole = touched.stream().filter(s -> count(s) >= s.samples()).toList();
    long taken = unit.takeOut(imported, stretch);
    StaleRange seconds = new StaleRange(second(stretch.fromUs()), second(stretch.toUs()));
    for (Soak soak : touched) {
      seconds = seconds.and(new StaleRange(soak.startSecond(), soak.endSecond()));
      if (allOfIt.contains(soak)) {
        remove(soak);
      } else if (whole.contains(soak)) {
        shrink(soak);
      } else {
        // It can't be derived without them, nor with them: its other samples are gone.
        unit.writeSoak(soak.withoutSamples());
      }
    }
    derive(tracker, seconds);
    return taken;
  }

  /** Whether a soak holds nothing but what came by the import, stored or not. */
  private boolean isAll(long imported, Soak soak) {
    ImportedStretch its = new ImportedStretch(soak.tracker(), soak.startUs(), soak.endUs());
    return unit.countImported(imported, its) >= soak.samples();
  }

  private long count(Soak soak) {
    return unit.countSamples(soak.tracker(), soak.startUs(), endUs(soak));
  }

  private static long endUs(Soak soak) {
    return (soak.endSecond() + 1) * US_PER_S;
  }

  private static long second(long us) {
    return Math.floorDiv(us, US_PER_S);
  }

  private void remove(Soak soak) {
    unit.deleteBins(soak.tracker(), soak.startSecond(), soak.endSecond() + 1);
    unit.deleteSoak(soak.id());
    context.earlier().remove(soak.tracker(), soak.id());
  }

  /** Its row says what is left of it, so that it is derived again from that, by its own terms. */
  private void shrink(Soak soak) {
    OptionalLong firstUs = unit.nextSampleUs(soak.tracker(), soak.startUs());
    if (firstUs.isEmpty() || firstUs.getAsLong() >= endUs(soak)) {
      remove(soak);
      return;
    }
    long lastUs = unit.lastSampleUs(soak.tracker(), endUs(soak)).orElseThrow();
    unit.deleteBins(soak.tracker(), soak.startSecond(), soak.endSecond() + 1);
    unit.writeSoak(
        new Soak(
            soak.id(), soak.tracker(), firstUs.getAsLong(), lastUs, count(soak), soak.ended()));
  }

  private void derive(String tracker, StaleRange seconds) {
    RederivedSoaks derived =
        new Rederivation(unit, context.apart(), tracker, seconds, unit::writeBins)
            .until(RederivationJob.AHEAD);
    derived.closeAgain(unit);
    derived.write(unit);
    derived.publishTo(context.earlier());
  }
}
