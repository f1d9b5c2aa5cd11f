package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import org.assertj.core.data.Percentage;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.live.LimitsOutcome;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.SomeLimits;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Estimate;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.LimitsChange;
import soakbench.model.LimitsChange.Origin;
import soakbench.model.Sample;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.model.TauPrior;

/** Each soak is judged by its own limits, whatever becomes of those in force. */
class SoakTermsTest {
  private static final SimulateOptions USUAL = SimulateOptions.usual(926);
  private static final List<Sample> RUN =
      Samples.simulated(
          SimulateOptions.usual(USUAL.run().seed())
              .lasting(2700)
              .printing(5)
              .named(Samples.TRACKER));

  /** Silent sooner, and ready much later, than by the defaults. */
  private static final Limits OTHERS =
      new SomeLimits()
          .and(LimitKey.HEARD_WITHIN_S, 4)
          .and(LimitKey.DWELL_S, 500)
          .and(LimitKey.STILL_FOR_S, 200)
          .limits();

  private static final StoreContents RUN_BY_DEFAULT = replayed(RUN, Limits.DEFAULT);
  private static final StoreContents RUN_BY_OTHERS = replayed(RUN, OTHERS);

  private final MemoryStore store = new MemoryStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);

  private SoakWatch watch(Limits given) {
    SoakWatch watch = new SoakWatch(store, given, clock);
    watch.restore();
    return watch;
  }

  private StoreContents kept() {
    return StoreContents.of(store, Samples.TRACKER);
  }

  private static StoreContents replayed(List<Sample> samples, Limits limits) {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, limits, () -> 0);
    watch.accept(samples);
    watch.finish();
    return StoreContents.of(store, samples.get(0).tracker());
  }

  /** But for what was told of its rates, which goes on while it does. */
  private Optional<SoakTerms> terms(int soak) {
    String id = kept().soaks().get(soak).id();
    try (SoakStore.Unit unit = store.begin()) {
      return unit.terms(id).map(SoakTerms::withoutDeclared);
    }
  }

  private static List<State> states(List<StateChange> timeline) {
    return timeline.stream().map(StateChange::state).toList();
  }

  @Test
  void theOtherLimitsMakeADifferenceHere() {
    List<StateChange> byDefault = RUN_BY_DEFAULT.timeline(0);
    assertThat(states(byDefault)).contains(State.READY);
    assertThat(RUN_BY_OTHERS.timeline(0)).isNotEqualTo(byDefault);
  }

  @ParameterizedTest
  @ValueSource(ints = {3, 9})
  void aRestartWithOtherLimitsGoesOnByThoseTheSoakBeganWith(int place) {
    goesOnByItsOwnLimits(place);
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 3, 5, 7, 9, 11})
  @Tag("bench")
  void aRestartWithOtherLimitsAnywhereGoesOnByThoseTheSoakBeganWith(int place) {
    goesOnByItsOwnLimits(place);
  }

  private static void goesOnByItsOwnLimits(int place) {
    MemoryStore each = new MemoryStore();
    int cut = place * RUN.size() / 12 - place;
    new SoakWatch(each, Limits.DEFAULT, () -> 0).accept(RUN.subList(0, cut));
    SoakWatch after = new SoakWatch(each, OTHERS, () -> 0);
    after.restore();
    assertThat(after.limits()).isEqualTo(OTHERS);
    after.accept(RUN.subList(cut, RUN.size()));
    after.finish();
    StoreContents.of(each, Samples.TRACKER).isSameAs(RUN_BY_DEFAULT);
  }

  @Test
  void theNextSoakTakesTheLimitsThenInForce() {
    List<Sample> twice = new Samples.Maker().lines(60).quiet(700).lines(60).samples();
    watch(Limits.DEFAULT).accept(twice.subList(0, 400));
    SoakWatch after = watch(OTHERS);
    after.accept(twice.subList(400, twice.size()));
    after.finish();
    assertThat(terms(0)).contains(SoakTerms.of(Limits.DEFAULT));
    assertThat(terms(1)).contains(SoakTerms.of(OTHERS));
  }

  @Test
  void lateSamplesAfterARestartWithOtherLimitsAreJudgedByTheSoaksOwn() {
    lateSamplesAreJudgedByItsOwnLimits(1);
  }

  @ParameterizedTest
  @ValueSource(longs = {1, 2, 3})
  @Tag("bench")
  void lateSamplesOfAnyTimeAreJudgedByTheSoaksOwnLimits(long seed) {
    lateSamplesAreJudgedByItsOwnLimits(seed);
  }

  private static void lateSamplesAreJudgedByItsOwnLimits(long seed) {
    Random random = new Random(seed);
    int held = 50 + random.nextInt(RUN.size() - 800);
    MemoryStore each = new MemoryStore();
    SoakWatch before = new SoakWatch(each, Limits.DEFAULT, () -> 0);
    List<Sample> inTime = new ArrayList<>(RUN.subList(0, held));
    inTime.addAll(RUN.subList(held + 300, RUN.size() - 100));
    before.accept(inTime);
    SoakWatch after = new SoakWatch(each, OTHERS, () -> 0);
    after.restore();
    after.accept(RUN.subList(held, held + 300));
    after.accept(RUN.subList(RUN.size() - 100, RUN.size()));
    after.finish();
    StoreContents.of(each, Samples.TRACKER).isSameButForMarksAs(RUN_BY_DEFAULT);
  }

  @Test
  void aSoakWhoseStartALateSampleMovesKeepsItsTerms() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    watch(Limits.DEFAULT).accept(all.subList(200, all.size()));
    SoakWatch after = watch(OTHERS);
    after.accept(all.subList(0, 200));
    after.finish();
    assertThat(kept().soaks()).hasSize(1);
    assertThat(kept().soaks().get(0).startUs()).isEqualTo(all.get(0).timeUs());
    assertThat(terms(0)).contains(SoakTerms.of(Limits.DEFAULT));
  }

  @Test
  void soaksOfBeforeTermsWereKeptTakeThoseInForceAtTheNextStart() {
    watch(Limits.DEFAULT).accept(RUN);
    String id = kept().soaks().get(0).id();
    store.tables.terms.remove(id);
    watch(OTHERS);
    assertThat(terms(0)).contains(SoakTerms.of(OTHERS));
    watch(Limits.DEFAULT);
    assertThat(terms(0)).contains(SoakTerms.of(OTHERS));
  }

  @Test
  void newLimitsLeaveASoakUnderWayAloneUnlessItIsToBeJudgedAgain() {
    SoakWatch watch = watch(null);
    watch.accept(RUN.subList(0, RUN.size() / 2));
    LimitsOutcome done = watch.change(l -> OTHERS, false, false);
    assertThat(done.before()).isEqualTo(Limits.DEFAULT);
    assertThat(done.judgedAgain()).isEmpty();
    assertThat(watch.limits()).isEqualTo(OTHERS);
    watch.accept(RUN.subList(RUN.size() / 2, RUN.size()));
    watch.finish();
    kept().isSameAs(RUN_BY_DEFAULT);
  }

  @ParameterizedTest
  @ValueSource(ints = {5, 11})
  void judgedAgainASoakIsAsIfItHadBegunByTheNewLimitsAndSaysWhatWasRevised(int place) {
    isAsIfBegunByTheNewLimits(place);
  }

  @ParameterizedTest
  @ValueSource(ints = {2, 5, 8, 11})
  @Tag("bench")
  void judgedAgainAnywhereASoakIsAsIfItHadBegunByTheNewLimits(int place) {
    isAsIfBegunByTheNewLimits(place);
  }

  private static void isAsIfBegunByTheNewLimits(int place) {
    MemoryStore each = new MemoryStore();
    SoakWatch watch = new SoakWatch(each, null, () -> 0);
    int cut = place * RUN.size() / 12 - place;
    watch.accept(RUN.subList(0, cut));
    List<StateChange> said = StoreContents.of(each, Samples.TRACKER).timeline(0);
    LimitsOutcome done = watch.change(l -> OTHERS, true, false);
    assertThat(done.judgedAgain()).hasSize(1);
    List<StateChange> now = StoreContents.of(each, Samples.TRACKER).timeline(0);
    for (StateChange entry : now) {
      if (!entry.revised()) {
        assertThat(said).as("at %s samples", cut).contains(entry);
      }
    }
    watch.accept(RUN.subList(cut, RUN.size()));
    watch.finish();
    StoreContents.of(each, Samples.TRACKER).isSameButForMarksAs(RUN_BY_OTHERS);
    assertThat(watch.change(l -> OTHERS, true, false).judgedAgain()).isEmpty();
  }

  @Test
  void judgedAgainWhatWasKnownOfTheTimeConstantStays() {
    SoakWatch watch = watch(null);
    watch.accept(RUN.subList(0, 1000));
    String id = kept().soaks().get(0).id();
    TauPrior prior = new TauPrior(600, 1.3, 4);
    store.tables.terms.put(
        id, new SoakTerms(Limits.DEFAULT, prior, store.tables.terms.get(id).rates()));
    watch.change(l -> OTHERS, true, false);
    assertThat(terms(0)).contains(new SoakTerms(OTHERS, prior));
  }

  @Test
  void aSilenceThatOnlyTheClockSaidIsKnownAfterJudgingAgain() {
    SoakWatch watch = watch(null);
    watch.accept(new Samples.Maker().lines(100).samples());
    clock.pass(7);
    watch.tick();
    assertThat(watch.readiness().get(0).state()).isNotEqualTo(State.SILENT);
    watch.change(l -> OTHERS, true, false);
    assertThat(watch.readiness().get(0).state()).isEqualTo(State.SILENT);
    StateChange last = kept().timeline(0).get(kept().timeline(0).size() - 1);
    assertThat(last.state()).isEqualTo(State.SILENT);
    assertThat(last.timeUs()).isEqualTo(kept().soaks().get(0).endUs() + 4_000_000);
    watch.change(l -> Limits.DEFAULT, true, false);
    assertThat(watch.readiness().get(0).state()).isNotEqualTo(State.SILENT);
    clock.pass(4);
    watch.tick();
    assertThat(watch.readiness().get(0).state()).isEqualTo(State.SILENT);
  }

  @Test
  void aDryRunChangesNothing() {
    SoakWatch watch = watch(null);
    watch.accept(RUN.subList(0, 5000));
    StoreContents before = kept();
    LimitsOutcome would = watch.change(l -> OTHERS, true, true);
    assertThat(would.judgedAgain()).containsExactly(before.soaks().get(0).id());
    assertThat(would.sinceUs()).isNull();
    assertThat(watch.limits()).isEqualTo(Limits.DEFAULT);
    kept().isSameAs(before);
    assertThat(store.tables.limits).hasSize(1);
  }

  @Test
  void aChangeThatIsRefusedChangesNothing() {
    SoakWatch watch = watch(null);
    watch.accept(RUN.subList(0, 5000));
    StoreContents before = kept();
    assertThatThrownBy(
            () ->
                watch.change(
                    l -> {
                      throw new IllegalArgumentException("no");
                    },
                    true,
                    false))
        .hasMessage("no");
    kept().isSameAs(before);
    watch.accept(RUN.subList(5000, RUN.size()));
    watch.finish();
    kept().isSameAs(RUN_BY_DEFAULT);
  }

  @Test
  void theShiftThatIsToldHas95PercentLimitsWhateverAlphaTheTestsUse() {
    List<Estimate> usual = shift(Limits.DEFAULT);
    List<Estimate> strict = shift(SomeLimits.with(LimitKey.ALPHA, 0.001));
    for (int axis = 0; axis < 3; axis++) {
      double width = usual.get(axis).high() - usual.get(axis).low();
      assertThat(strict.get(axis).high() - strict.get(axis).low())
          .isCloseTo(width, Percentage.withPercentage(3));
    }
  }

  private static List<Estimate> shift(Limits limits) {
    SoakWatch watch = new SoakWatch(new MemoryStore(), limits, () -> 0);
    watch.accept(RUN.subList(0, 8000));
    return watch.readiness().get(0).figures().shiftDps();
  }

  @Test
  void withoutAFileAStartGoesOnWithTheNewestLimits() {
    assertThat(watch(null).limits()).isEqualTo(Limits.DEFAULT);
    watch(null).change(l -> OTHERS, false, false);
    assertThat(watch(null).limits()).isEqualTo(OTHERS);
    assertThat(origins()).containsExactly(Origin.DEFAULTS, Origin.HTTP);
  }

  @Test
  void aFileTakesEffectAtItsStartAndIsNewOnlyWhereItDiffers() {
    Limits third = SomeLimits.with(LimitKey.DWELL_S, 90);
    watch(third);
    watch(third);
    assertThat(origins()).containsExactly(Origin.FILE);
    watch(third).change(l -> OTHERS, false, false);
    assertThat(watch(third).limits()).isEqualTo(third);
    assertThat(watch(null).limits()).isEqualTo(third);
    assertThat(origins()).containsExactly(Origin.FILE, Origin.HTTP, Origin.FILE);
  }

  @Test
  void aLostAnswerOfTheStoreDoesNotBringBackLimitsGivenAtTheStart() {
    SoakWatch watch = watch(SomeLimits.with(LimitKey.DWELL_S, 90));
    watch.change(l -> OTHERS, false, false);
    watch.restore();
    assertThat(watch.limits()).isEqualTo(OTHERS);
  }

  @Test
  void defaultsThatNobodyChoseGiveWayToThoseOfANewerProgram() {
    try (SoakStore.Unit unit = store.begin()) {
      unit.addLimits(new LimitsChange(1, Origin.DEFAULTS, OTHERS));
      unit.commit();
    }
    assertThat(watch(null).limits()).isEqualTo(Limits.DEFAULT);
    assertThat(origins()).isEqualTo(Collections.nCopies(2, Origin.DEFAULTS));
  }

  private List<Origin> origins() {
    return store.tables.limits.values().stream().map(LimitsChange::origin).toList();
  }
}
