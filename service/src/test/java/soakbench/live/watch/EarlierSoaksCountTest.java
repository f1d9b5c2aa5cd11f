package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.Truth;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.SoakSummary;
import soakbench.live.figures.SoakAnalysis;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.TauPrior;
import soakbench.readiness.Judge;
import soakbench.readiness.Readiness;

/** What a soak tells those after it, and what that may change. */
class EarlierSoaksCountTest {
  private static final long DAY_US = 86_400_000_000L;
  private static List<Sample> run;

  @BeforeAll
  static void simulate() {
    // A tracker that gets ready, after some way.
    run =
        IntStream.range(1, 100)
            .mapToObj(EarlierSoaksCountTest::options)
            .filter(EarlierSoaksCountTest::getsReady)
            .findFirst()
            .map(Samples::simulated)
            .orElseThrow();
  }

  private static boolean getsReady(SimulateOptions options) {
    List<int[]> readyS = Truth.of(RecipeGenerator.recipe(options)).readyS();
    return !readyS.isEmpty() && readyS.get(0)[0] > 1500 && readyS.get(0)[0] < 2400;
  }

  private static SimulateOptions options(int seed) {
    return SimulateOptions.usual(seed)
        .withMix(Mix.CLEAN)
        .lasting(3000)
        .printing(5)
        .named(Samples.TRACKER)
        .withAccelerometer(false);
  }

  /** The same run so many days later. */
  private static List<Sample> onDay(int day) {
    return run.stream().map(s -> moved(s, day * DAY_US)).toList();
  }

  private static Sample moved(Sample s, long us) {
    return new Sample(
        s.tracker(),
        s.timeUs() + us,
        s.temperatureC(),
        s.temperatureHeld(),
        s.gxDps(),
        s.gyDps(),
        s.gzDps(),
        s.axG(),
        s.ayG(),
        s.azG(),
        s.seq(),
        s.tMs());
  }

  private static SoakWatch watch(SoakStore store) {
    return new SoakWatch(store, Limits.DEFAULT, () -> 0);
  }

  private static List<TauPrior> priors(SoakStore store) {
    try (SoakStore.Unit unit = store.begin()) {
      List<TauPrior> priors = new ArrayList<>();
      for (Soak soak : unit.soaks(Samples.TRACKER, Long.MIN_VALUE)) {
        priors.add(unit.terms(soak.id()).orElseThrow().tauPrior());
      }
      return priors;
    }
  }

  @Test
  void theFourthSoakKnowsTheThreeBeforeIt() {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = watch(store);
    for (int day = 0; day < 5; day++) {
      watch.accept(onDay(day));
    }
    watch.finish();
    List<TauPrior> priors = priors(store);
    assertThat(priors.subList(0, 3)).containsOnlyNulls();
    assertThat(priors.get(3).soaks()).isEqualTo(3);
    assertThat(priors.get(4).soaks()).isEqualTo(4);
    // The run's own constant, each time the same.
    Estimate own = newestSummary(store).ownTauS().orElseThrow();
    assertThat(priors.get(4).medianS()).isCloseTo(own.value(), within(0.05 * own.value()));
  }

  private static SoakSummary newestSummary(SoakStore store) {
    try (SoakStore.Unit unit = store.begin()) {
      List<SoakSummary> all = unit.summaries(20);
      return all.get(all.size() - 1);
    }
  }

  @Test
  void oneBatchOrManyWithARestartBetweenGivesTheSamePriors() {
    MemoryStore atOnce = new MemoryStore();
    List<Sample> all = new ArrayList<>();
    for (int day = 0; day < 5; day++) {
      all.addAll(onDay(day));
    }
    SoakWatch one = watch(atOnce);
    one.accept(all);
    one.finish();
    MemoryStore cut = new MemoryStore();
    for (int from = 0; from < all.size(); from += 10_000) {
      watch(cut).accept(all.subList(from, Math.min(all.size(), from + 10_000)));
    }
    SoakWatch last = watch(cut);
    last.finish();
    assertThat(priors(cut)).isEqualTo(priors(atOnce));
  }

  @Test
  void aLateSampleInAnEarlierSoakChangesItsSummaryAndNoTermsOfSoaksAfterIt() {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = watch(store);
    List<Sample> first = new ArrayList<>(onDay(0));
    Sample late = first.remove(4000);
    watch.accept(first);
    for (int day = 1; day < 5; day++) {
      watch.accept(onDay(day));
    }
    List<TauPrior> before = priors(store);
    watch.accept(List.of(late));
    watch.finish();
    assertThat(priors(store)).isEqualTo(before);
    assertThat(before.get(4)).isNotNull();
  }

  @Test
  void aPriorChangesTheExpectedTimeAndNothingElseOfTheVerdict() {
    List<Readiness> without = judged(null);
    List<Readiness> with = judged(new TauPrior(400, 1.2, 9));
    int other = 0;
    for (int i = 0; i < without.size(); i++) {
      Readiness a = without.get(i);
      Readiness b = with.get(i);
      assertThat(b.state()).isEqualTo(a.state());
      assertThat(b.sinceUs()).isEqualTo(a.sinceUs());
      assertThat(b.figures().shiftDps()).isEqualTo(a.figures().shiftDps());
      assertThat(b.conditions()).isEqualTo(a.conditions());
      if (a.readyAt() != null && b.readyAt() != null) {
        assertThat(a.readyAt().priorUsed()).isFalse();
        assertThat(b.readyAt().priorUsed()).isTrue();
        other += a.readyAt().expectedUs() != b.readyAt().expectedUs() ? 1 : 0;
      }
    }
    assertThat(other).as("seconds with another expected time").isGreaterThan(300);
  }

  @Test
  void aWrongPriorIsOutweighedByTheSoaksOwnSeconds() {
    List<Readiness> without = judged(null);
    int readyAt = indexOfReady(without);
    Estimate own = ownTau();
    for (double wrong : new double[] {0.5, 2}) {
      List<Readiness> with = judged(new TauPrior(wrong * own.value(), 1.16, 9));
      // A quick body seems to level off below the band: then there is no time early on.
      double early = errorS(with, readyAt, 0.25) - errorS(without, readyAt, 0.25);
      double late = errorS(with, readyAt, 0.75) - errorS(without, readyAt, 0.75);
      assertThat(Math.abs(early) < 5).as("%s times, early, %s s", wrong, early).isFalse();
      assertThat(Math.abs(late)).as("%s times, late", wrong).isLessThan(20);
    }
  }

  private static int indexOfReady(List<Readiness> verdicts) {
    for (int i = 0; i < verdicts.size(); i++) {
      if (verdicts.get(i).state() == State.READY) {
        return i;
      }
    }
    throw new AssertionError("the simulated tracker never got ready");
  }

  private static double errorS(List<Readiness> verdicts, int ready, double way) {
    Readiness then = verdicts.get((int) (way * ready));
    return then.readyAt() == null
        ? Double.NaN
        : (then.readyAt().expectedUs() - verdicts.get(ready).asOfUs()) / 1e6;
  }

  private static List<Bin> bins() {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = watch(store);
    watch.accept(run);
    watch.finish();
    try (SoakStore.Unit unit = store.begin()) {
      return unit.bins(Samples.TRACKER, 0, Long.MAX_VALUE / 2_000_000L);
    }
  }

  private static Estimate ownTau() {
    List<Estimate> all = SoakAnalysis.of(bins(), Limits.DEFAULT).warmUp().timeConstantsS();
    return all.get(all.size() - 1);
  }

  private static List<Readiness> judged(TauPrior prior) {
    Judge judge = new Judge("T", "T@1", new SoakTerms(Limits.DEFAULT, prior));
    List<Bin> bins = bins();
    List<Readiness> out = new ArrayList<>();
    for (int i = 0; i < bins.size(); i++) {
      out.add(judge.accept(bins.get(i), i + 1 < bins.size() ? bins.get(i + 1) : null));
    }
    return out;
  }
}
