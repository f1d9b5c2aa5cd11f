package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Random;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.SomeLimits;
import soakbench.live.StaleRange;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.DeclaredRates;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Readiness;

/** What is told of a tracker's rates holds from then on, whenever it is asked again. */
class DeclaredRatesTest {
  private static final long US = 1_000_000L;
  private static List<Sample> run;

  private final MemoryStore store = new MemoryStore();
  private Rates told = Rates.UNKNOWN;

  @BeforeAll
  static void simulate() {
    SimulateOptions usual = SimulateOptions.usual(4);
    run =
        Samples.simulated(
            SimulateOptions.usual(4)
                .withMix(Mix.CLEAN)
                .lasting(2400)
                .printing(4)
                .named(Samples.TRACKER));
  }

  private static long startUs() {
    return run.get(0).timeUs();
  }

  private static List<Sample> between(double fromS, double toS) {
    return run.stream()
        .filter(s -> s.timeUs() >= startUs() + fromS * 1e6 && s.timeUs() < startUs() + toS * 1e6)
        .toList();
  }

  private SoakWatch watch() {
    SoakWatch watch = new SoakWatch(store, null, () -> 0);
    watch.useRates(tracker -> told);
    watch.restore();
    return watch;
  }

  private StoreContents kept() {
    return StoreContents.of(store, Samples.TRACKER);
  }

  private SoakTerms terms() {
    try (SoakStore.Unit unit = store.begin()) {
      return unit.terms(kept(unit).id()).orElseThrow();
    }
  }

  private static Soak kept(SoakStore.Unit unit) {
    return unit.soaks(Samples.TRACKER, Long.MIN_VALUE).get(0);
  }

  /** Said to follow for so long, raw after. */
  private SoakWatch followsUntil(double atS) {
    told = Rates.FOLLOWS;
    SoakWatch watch = watch();
    watch.accept(between(0, atS));
    told = Rates.RAW;
    watch.accept(between(atS, 1e9));
    return watch;
  }

  private static long readySince(SoakWatch watch) {
    Readiness now = watch.readiness(Samples.TRACKER).orElseThrow();
    assertThat(now.state()).isEqualTo(State.READY);
    return now.sinceUs();
  }

  private long secondAt(double atS) {
    return Math.floorDiv(startUs(), US) + Math.round(atS);
  }

  @Test
  void itIsReadySinceTheSameMomentAfterARestartAndDerivedAgain() {
    SoakWatch live = followsUntil(1800);
    long sinceUs = readySince(live);
    assertThat(sinceUs).isGreaterThan(startUs() + 1797 * US);
    assertThat(readySince(watch())).isEqualTo(sinceUs);
    List<StateChange> before = kept().timeline(0);
    try (SoakStore.Unit unit = store.begin()) {
      unit.markStale(Map.of(Samples.TRACKER, new StaleRange(0, Long.MAX_VALUE / 2_000_000L)));
      unit.commit();
    }
    live.settle();
    assertThat(readySince(live)).isEqualTo(sinceUs);
    assertThat(kept().timeline(0)).isEqualTo(before);
  }

  @Test
  void theTermsSayFromWhenOnItHolds() {
    followsUntil(600);
    List<DeclaredRates> rates = terms().rates();
    assertThat(rates).extracting(DeclaredRates::rates).containsExactly(Rates.FOLLOWS, Rates.RAW);
    assertThat(rates.get(0).fromSecond()).isEqualTo(secondAt(0));
    assertThat(rates.get(1).fromSecond()).isBetween(secondAt(597), secondAt(600));
  }

  @Test
  void otherLimitsDoNotChangeWhatWasTold() {
    SoakWatch live = followsUntil(1800);
    List<DeclaredRates> rates = terms().rates();
    live.change(l -> SomeLimits.with(LimitKey.DWELL_S, 301), true, false);
    assertThat(terms().rates()).isEqualTo(rates);
    assertThat(readySince(live)).isGreaterThan(startUs() + 1797 * US);
  }

  @Test
  void aSoakOfBeforeItWasKeptTakesWhatIsToldTodayAndKeepsIt() {
    followsUntil(1800);
    store.tables.terms.replaceAll((soak, terms) -> terms.withoutDeclared());
    told = Rates.RAW;
    long fromTheStart = readySince(watch());
    assertThat(fromTheStart).isLessThan(startUs() + 1797 * US);
    told = Rates.FOLLOWS;
    assertThat(readySince(watch())).isEqualTo(fromTheStart);
    assertThat(terms().rates()).containsExactly(new DeclaredRates(secondAt(0), Rates.RAW));
  }

  @Test
  void aPreviewTakesWhatWasToldThen() {
    followsUntil(1800);
    StoreContents kept = kept();
    Rejudging again = new Rejudging(kept.soaks().get(0), terms(), tracker -> Rates.UNKNOWN);
    kept.bins().forEach(again::accept);
    assertThat(again.timeline(kept.timeline(0))).isEqualTo(kept.timeline(0));
  }

  /** One thing that happens while a soak goes on. */
  private record Event(List<Sample> samples, Rates told, Limits limits) {}

  /** What arrives, some of it late, with other words and limits in between. */
  private static List<Event> events(Random random) {
    List<Event> all = new ArrayList<>();
    List<List<Sample>> late = new ArrayList<>();
    for (double s = 0; s < 2400; ) {
      double untilS = s + 20 + random.nextInt(260);
      double gapS =
          random.nextInt(3) > 0 ? 0 : 1 + random.nextInt(random.nextInt(6) == 0 ? 700 : 40);
      all.add(new Event(between(s, untilS), null, null));
      if (gapS > 0) {
        late.add(between(untilS, untilS + gapS));
      }
      if (random.nextBoolean()) {
        all.add(new Event(List.of(), Rates.values()[random.nextInt(3)], null));
      }
      if (random.nextInt(10) == 0) {
        double dwellS = 60 + random.nextInt(200);
        all.add(new Event(List.of(), null, SomeLimits.with(LimitKey.DWELL_S, dwellS)));
      }
      while (!late.isEmpty() && random.nextInt(3) == 0) {
        all.add(new Event(late.remove(random.nextInt(late.size())), null, null));
      }
      s = untilS + gapS;
    }
    late.forEach(samples -> all.add(new Event(samples, null, null)));
    return all;
  }

  private interface Between {
    SoakWatch next(SoakWatch watch);
  }

  private SoakWatch all(List<Event> events, Between between) {
    SoakWatch watch = watch();
    for (Event event : events) {
      if (event.told() != null) {
        told = event.told();
      } else if (event.limits() != null) {
        watch.change(l -> event.limits(), true, false);
      } else {
        watch.accept(event.samples());
      }
      watch = between.next(watch);
    }
    watch.finish();
    return watch;
  }

  @ParameterizedTest
  @ValueSource(longs = {6, 12})
  void liveRestartedAndDerivedAgainSayTheSame(long seed) {
    sayTheSame(seed);
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 3, 4, 5, 7, 8, 9, 10})
  @Tag("bench")
  void inMoreLivesTheySayTheSameToo(long seed) {
    sayTheSame(seed);
  }

  private void sayTheSame(long seed) {
    List<Event> events = events(new Random(seed));
    DeclaredRatesTest other = new DeclaredRatesTest();
    Random settles = new Random(-seed);
    Random restarts = new Random(seed * 77);
    SoakWatch live =
        all(
            events,
            w -> {
              if (settles.nextInt(4) == 0) {
                w.settle();
              }
              return w;
            });
    SoakWatch restarted = other.all(events, w -> restarts.nextInt(6) == 0 ? other.watch() : w);
    other.kept().isSameButForMarksAs(kept());
    assertThat(other.store.tables.terms).isEqualTo(store.tables.terms);
    Readiness newest = live.readiness(Samples.TRACKER).orElseThrow();
    StoreContents.sameVerdict(restarted.readiness(Samples.TRACKER).orElseThrow(), newest);
    StoreContents before = kept();
    try (SoakStore.Unit unit = store.begin()) {
      unit.markStale(Map.of(Samples.TRACKER, new StaleRange(0, Long.MAX_VALUE / 2_000_000L)));
      unit.commit();
    }
    live.finish();
    kept().isSameButForMarksAs(before);
    StoreContents.sameVerdict(live.readiness(Samples.TRACKER).orElseThrow(), newest);
  }
}
