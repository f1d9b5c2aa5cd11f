package soakbench.api.figures;

import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.function.Function;
import soakbench.drift.curve.CurveAsk;
import soakbench.live.deriving.SoakDrift;
import soakbench.live.deriving.SoakGround;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.store.SoakArchive;

/**
 * The analyses of those soaks that were asked for last, in memory: a page asks for warm-up, curve,
 * noise and heading one after the other, and each rests on all of the soak. One is answered only as
 * long as it holds: not when anything came late, ended, or was declared otherwise. Of a soak that
 * goes on it may lack the newest thousandth, at most five seconds. Thread-safe.
 */
final class KeptAnalyses {
  /** Of all soaks together, some 25 MB; a longer soak is not kept. */
  static final int MOST_SECONDS = 60_000;

  private static final int MOST_SOAKS = 16;
  private static final int LAG_SHARE = 1000;
  private static final int MOST_LAG_S = 5;

  private final SoakArchive archive;
  private final Function<Soak, List<Bin>> bins;
  private final int mostSeconds;

  /** By soak, the one asked for last at the end. */
  private final Map<String, Slot> slots = new LinkedHashMap<>(16, 0.75f, true);

  /**
   * Where the analysis of a soak lies; locked while that is worked out, so that those who ask
   * meanwhile wait for it.
   */
  private static final class Slot {
    private volatile Analysis analysis;
  }

  /**
   * An analysis and what it rests on.
   *
   * @param soak as it stood before its bins were read
   * @param newestSecond of its bins
   * @param seconds how many bins
   * @param useC temperature in use, degC
   * @param declared what the roster declared of its rates
   * @param drift as the soak's own limits want it
   */
  record Analysis(
      Soak soak,
      long newestSecond,
      int seconds,
      double useC,
      Rates declared,
      SoakGround ground,
      SoakDrift drift) {

    private static Analysis of(Soak soak, List<Bin> bins, double useC, Rates declared) {
      SoakGround ground = SoakGround.of(bins);
      long newest = bins.isEmpty() ? soak.startSecond() : bins.get(bins.size() - 1).second();
      SoakDrift drift = SoakDrift.of(ground, CurveAsk.at(useC), declared);
      return new Analysis(soak, newest, bins.size(), useC, declared, ground, drift);
    }

    private long mayLackS() {
      return soak.open() ? Math.min(MOST_LAG_S, seconds / LAG_SHARE) : 0;
    }
  }

  /**
   * @param bins reads all bins of a soak
   * @param mostSeconds of all soaks that are kept
   */
  KeptAnalyses(SoakArchive archive, Function<Soak, List<Bin>> bins, int mostSeconds) {
    this.archive = archive;
    this.bins = bins;
    this.mostSeconds = mostSeconds;
  }

  /**
   * The analysis of a soak.
   *
   * @param useC temperature in use, degC
   * @param declared what the roster declares of its rates now
   */
  Analysis of(Soak asked, double useC, Rates declared) {
    Slot slot = slot(asked.id());
    Analysis analysis;
    synchronized (slot) {
      // Another may have worked it out since this one's soak was read.
      Soak soak = archive.soak(asked.id()).orElse(asked);
      if (!holds(slot.analysis, soak, useC, declared)) {
        slot.analysis = Analysis.of(soak, bins.apply(soak), useC, declared);
      }
      analysis = slot.analysis;
    }
    keepTo(mostSeconds);
    return analysis;
  }

  private boolean holds(Analysis before, Soak soak, double useC, Rates declared) {
    if (before == null || before.useC() != useC || before.declared() != declared) {
      return false;
    }
    if (before.soak().open() != soak.open()) {
      return false;
    }
    OptionalLong grownS = archive.grownS(before.soak(), before.newestSecond(), soak);
    return grownS.isPresent() && grownS.getAsLong() <= before.mayLackS();
  }

  private synchronized Slot slot(String soak) {
    return slots.computeIfAbsent(soak, id -> new Slot());
  }

  /** Forgets those that were not asked for longest. */
  private synchronized void keepTo(int most) {
    long seconds = slots.values().stream().mapToLong(KeptAnalyses::seconds).sum();
    Iterator<Slot> oldest = slots.values().iterator();
    while (oldest.hasNext() && (seconds > most || slots.size() > MOST_SOAKS)) {
      seconds -= seconds(oldest.next());
      oldest.remove();
    }
  }

  /** What is being worked out counts when it is done. */
  private static long seconds(Slot slot) {
    Analysis analysis = slot.analysis;
    return analysis == null ? 0 : analysis.seconds();
  }
}
