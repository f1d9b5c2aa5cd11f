package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatList;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collections;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.function.Consumer;
import java.util.function.Function;
import java.util.stream.IntStream;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.drift.FastResponse;
import soakbench.live.SoakStore.Unit;
import soakbench.live.SoakStore.Written;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Estimate;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.LimitsChange;
import soakbench.model.LimitsChange.Origin;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.model.TauPrior;
import soakbench.readiness.RecordedCooling;
import soakbench.thermal.Cooling;

/** What every store must do. Each test uses trackers of its own, so stores may be shared. */
public abstract class SoakStoreContract {
  private static final long START_US = 1_772_352_006_453_127L;
  private static int trackers;

  private String tracker;

  /** The store under test; the same one at each call. */
  protected abstract SoakStore store();

  @BeforeEach
  void nameATracker() {
    tracker = "contract-" + trackers++;
  }

  @Test
  void samplesComeBackByTimeAndEqual() {
    List<Sample> written = IntStream.range(0, 50).mapToObj(i -> sample(i * 20_000L)).toList();
    List<Sample> shuffled = new ArrayList<>(written);
    Collections.shuffle(shuffled, new Random(4));
    assertThat(write(shuffled)).isEqualTo(new Written(shuffled, 0, 0));
    assertThat(stored()).isEqualTo(written);
  }

  @Test
  void everyMicrosecondIsKept() {
    List<Sample> written = IntStream.range(0, 1_000).mapToObj(this::sample).toList();
    write(written);
    assertThat(stored()).isEqualTo(written);
  }

  @Test
  void timesBefore1970AndFarAheadAreKept() {
    List<Sample> written = List.of(at(-1), at(0), at(253_402_300_799_999_999L));
    write(written);
    assertThatList(read(u -> u.samples(tracker, Long.MIN_VALUE, Long.MAX_VALUE)))
        .isEqualTo(written);
  }

  @Test
  void absentAndExtremeChannelValuesComeBackAsTheyWere() {
    float nan = Float.NaN;
    List<Sample> written =
        List.of(
            new Sample(tracker, START_US, nan, false, nan, nan, nan, nan, nan, nan, -1, -1),
            new Sample(tracker, START_US + 1, 21.5f, true, nan, nan, nan, nan, nan, nan, 0, 0),
            new Sample(
                tracker,
                START_US + 2,
                -0.0f,
                false,
                Float.MIN_VALUE,
                -Float.MAX_VALUE,
                0.1f,
                Float.POSITIVE_INFINITY,
                1f / 3,
                nan,
                Long.MAX_VALUE,
                4_294_967_295L));
    write(written);
    assertThat(stored()).isEqualTo(written);
  }

  @Test
  void readingTakesTheStartAndLeavesTheEnd() {
    write(List.of(sample(0), sample(10), sample(20)));
    assertThatList(read(u -> u.samples(tracker, START_US, START_US + 20)))
        .isEqualTo(List.of(sample(0), sample(10)));
    assertThatList(read(u -> u.samples(tracker, START_US + 20, START_US))).isEmpty();
    assertThatList(read(u -> u.samples("nobody", 0, Long.MAX_VALUE))).isEmpty();
  }

  @Test
  void sendingAgainIsHarmlessAndCounted() {
    List<Sample> samples = List.of(sample(0), sample(1), sample(2));
    write(samples);
    assertThat(write(samples)).isEqualTo(new Written(List.of(), 3, 0));
    assertThat(stored()).isEqualTo(samples);
  }

  @Test
  void sendingAgainWithoutKnownValuesIsADuplicateToo() {
    float nan = Float.NaN;
    Sample bare = new Sample(tracker, START_US, nan, false, 1, 2, 3, nan, nan, nan, -1, -1);
    write(List.of(bare));
    assertThat(write(List.of(bare))).isEqualTo(new Written(List.of(), 1, 0));
  }

  @Test
  void newSamplesAmongOldOnesAreWrittenInTheGivenOrder() {
    write(List.of(sample(10), sample(20)));
    Written written = write(List.of(sample(30), sample(20), sample(0), sample(10)));
    assertThat(written).isEqualTo(new Written(List.of(sample(30), sample(0)), 2, 0));
    assertThat(stored()).isEqualTo(List.of(sample(0), sample(10), sample(20), sample(30)));
  }

  @Test
  void otherValuesForTheSameKeyAreCountedAndTheFirstKept() {
    write(List.of(sample(0)));
    List<Sample> others =
        List.of(
            warmer(sample(0)),
            held(sample(0)),
            numbered(sample(0), 77, 5),
            numbered(sample(0), 9, 77));
    assertThat(write(others)).isEqualTo(new Written(List.of(), 0, 4));
    assertThat(stored()).isEqualTo(List.of(sample(0)));
  }

  @Test
  void repeatsWithinOneListAreToldApartAsWell() {
    Written written =
        write(List.of(sample(0), sample(0), warmer(sample(0)), sample(1), warmer(sample(1))));
    assertThat(written).isEqualTo(new Written(List.of(sample(0), sample(1)), 1, 2));
    assertThat(stored()).isEqualTo(List.of(sample(0), sample(1)));
  }

  @Test
  void twoTrackersMayShareATime() {
    Sample other = copy(sample(0), tracker + "-b", 1f, false, 9, 5);
    assertThat(write(List.of(sample(0), other)).fresh()).hasSize(2);
    assertThat(stored()).isEqualTo(List.of(sample(0)));
  }

  @Test
  void writingNothingIsFine() {
    assertThat(write(List.of())).isEqualTo(new Written(List.of(), 0, 0));
    run(u -> u.writeBins(List.of()));
    run(u -> u.appendTimeline("none", List.of()));
  }

  @Test
  void aUnitSeesWhatItWroteItself() {
    try (Unit unit = store().begin()) {
      unit.writeSamples(List.of(sample(0)));
      unit.writeSamples(List.of(sample(0), sample(1)));
      assertThat(unit.samples(tracker, 0, Long.MAX_VALUE)).hasSize(2);
    }
  }

  @Test
  void aUnitThatIsNotCommittedLeavesNothing() {
    write(List.of(sample(0)));
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSoak(soak));
    run(u -> u.replaceTimeline(soak.id(), List.of(change(0, State.STARTING))));
    try (Unit unit = store().begin()) {
      unit.writeSamples(List.of(sample(0), sample(1)));
      unit.writeBins(List.of(bin(5, 1.5)));
      unit.writeSoak(soak("b", 200, 300, null));
      unit.deleteSoak(soak.id());
      unit.markStale(tracker, 3);
    }
    assertThat(stored()).isEqualTo(List.of(sample(0)));
    assertThatList(read(u -> u.bins(tracker, 0, Long.MAX_VALUE))).isEmpty();
    assertThatList(read(u -> u.soaks(tracker, 0))).containsExactly(soak);
    assertThatList(read(u -> u.timeline(soak.id()))).containsExactly(change(0, State.STARTING));
    assertThat(staleFrom()).isEmpty();
  }

  @Test
  void samplesAloneAreTakenBackAsWell() {
    for (int i = 0; i < 3; i++) {
      try (Unit unit = store().begin()) {
        unit.writeSamples(List.of(sample(i)));
      }
    }
    assertThatList(stored()).isEmpty();
  }

  @Test
  void aSecondUnitIsRefusedWhileOneIsOpen() {
    try (Unit unit = store().begin()) {
      assertThat(unit.staleFrom(tracker)).isEmpty();
      assertThatThrownBy(() -> store().begin()).isInstanceOf(IllegalStateException.class);
    }
    assertThat(staleFrom()).isEmpty();
  }

  @Test
  void aClosedUnitDoesNoMoreWork() {
    Unit unit = store().begin();
    unit.close();
    unit.close();
    assertThatThrownBy(() -> unit.samples(tracker, 0, 1)).isInstanceOf(IllegalStateException.class);
    assertThatThrownBy(unit::commit).isInstanceOf(IllegalStateException.class);
  }

  @Test
  void binsComeBackExactly() {
    List<Bin> bins = List.of(bin(10, 0.1 + 0.2), bin(11, Math.PI), emptyBin(12));
    run(u -> u.writeBins(List.of(bins.get(2), bins.get(0), bins.get(1))));
    assertSame(read(u -> u.bins(tracker, 10, 13)), bins);
    assertSame(read(u -> u.bins(tracker, 10, 12)), bins.subList(0, 2));
    assertSame(read(u -> u.bins(tracker, Long.MIN_VALUE, Long.MAX_VALUE)), bins);
  }

  @Test
  void aBinWrittenAgainReplacesTheOldOne() {
    run(u -> u.writeBins(List.of(bin(10, 1), bin(11, 1))));
    run(u -> u.writeBins(List.of(bin(11, 2), bin(12, 2))));
    assertSame(read(u -> u.bins(tracker, 0, 100)), List.of(bin(10, 1), bin(11, 2), bin(12, 2)));
  }

  @Test
  void theLastOfTwoBinsForOneSecondInOneListStays() {
    run(u -> u.writeBins(List.of(bin(10, 1), bin(10, 2))));
    assertSame(read(u -> u.bins(tracker, 0, 100)), List.of(bin(10, 2)));
  }

  @Test
  void soaksAreReplacedByIdAndComeByStart() {
    Soak early = soak("a", 0, 100, Soak.End.LATE_REBOOT);
    Soak late = soak("b", 200, 300, null);
    run(u -> u.writeSoak(late));
    run(u -> u.writeSoak(soak("a", 0, 50, null)));
    run(u -> u.writeSoak(early));
    assertThatList(read(u -> u.soaks(tracker, 0))).containsExactly(early, late);
    assertThatList(read(u -> u.soaks(tracker, START_US + 100))).containsExactly(early, late);
    assertThatList(read(u -> u.soaks(tracker, START_US + 101))).containsExactly(late);
    assertThatList(read(Unit::lastSoaks)).contains(late).doesNotContain(early);
  }

  @Test
  void aDeletedSoakTakesItsTimelineWithItAndLeavesItsSamples() {
    Soak soak = soak("a", 0, 100, Soak.End.TAKEN_OFF);
    write(List.of(sample(0)));
    run(u -> u.writeSoak(soak));
    run(u -> u.appendTimeline(soak.id(), List.of(change(0, State.STARTING))));
    run(u -> u.deleteSoak(soak.id()));
    assertThatList(read(u -> u.soaks(tracker, 0))).isEmpty();
    assertThatList(read(u -> u.timeline(soak.id()))).isEmpty();
    assertThat(stored()).isEqualTo(List.of(sample(0)));
  }

  @Test
  void aTimelineKeepsTheOrderInWhichItWasWritten() {
    String soak = tracker + "@t";
    StateChange first = change(0, State.STARTING);
    StateChange second = change(10, State.WARMING);
    StateChange sameTime = new StateChange(START_US + 10, State.READY, true);
    run(u -> u.appendTimeline(soak, List.of(first)));
    run(u -> u.appendTimeline(soak, List.of(second, sameTime)));
    assertThatList(read(u -> u.timeline(soak))).containsExactly(first, second, sameTime);
    run(u -> u.replaceTimeline(soak, List.of(sameTime)));
    run(u -> u.appendTimeline(soak, List.of(second)));
    assertThatList(read(u -> u.timeline(soak))).containsExactly(sameTime, second);
    run(u -> u.replaceTimeline(soak, List.of()));
    assertThatList(read(u -> u.timeline(soak))).isEmpty();
  }

  @Test
  void everyStateCanStandInATimeline() {
    List<StateChange> all =
        IntStream.range(0, State.values().length)
            .mapToObj(i -> change(i, State.values()[i]))
            .toList();
    run(u -> u.replaceTimeline(tracker, all));
    assertThatList(read(u -> u.timeline(tracker))).isEqualTo(all);
  }

  @Test
  void theTermsOfASoakComeBackExactlyAndAreReplacedOnlyByItsOwn() {
    SoakTerms plain = SoakTerms.of(odd(1));
    SoakTerms learnt = new SoakTerms(odd(Math.PI), new TauPrior(1234.5678, 1.1 + 0.2, 7));
    run(u -> u.writeTerms(tracker + "@a", plain));
    run(u -> u.writeTerms(tracker + "@b", learnt));
    assertThat(terms(tracker + "@a")).contains(plain);
    assertThat(terms(tracker + "@b")).contains(learnt);
    run(u -> u.writeTerms(tracker + "@b", plain));
    run(u -> u.writeTerms(tracker + "@a", learnt));
    assertThat(terms(tracker + "@a")).contains(learnt);
    assertThat(terms(tracker + "@b")).contains(plain);
  }

  @Test
  void aLimitThatIsLeftOpenStaysOpen() {
    assertThat(Limits.DEFAULT.nearUseLimitDegPerMin()).isNull();
    run(u -> u.writeTerms(tracker, SoakTerms.of(Limits.DEFAULT)));
    assertThat(terms(tracker)).contains(SoakTerms.of(Limits.DEFAULT));
  }

  @Test
  void onlySoaksWithoutTermsAdoptSome() {
    Soak with = soak("a", 0, 100, null);
    Soak without = soak("b", 200, 300, null);
    run(u -> List.of(with, without).forEach(u::writeSoak));
    run(u -> u.writeTerms(with.id(), SoakTerms.of(odd(1))));
    SoakTerms adopted = new SoakTerms(odd(2), new TauPrior(600, 1.3, 2));
    run(u -> u.adoptTerms(adopted));
    run(u -> u.adoptTerms(SoakTerms.of(odd(3))));
    assertThat(terms(with.id())).contains(SoakTerms.of(odd(1)));
    assertThat(terms(without.id())).contains(adopted);
  }

  @Test
  void theTermsGoWithTheirSoakAndWithAUnitThatIsNotCommitted() {
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSoak(soak));
    run(u -> u.writeTerms(soak.id(), SoakTerms.of(odd(1))));
    try (Unit unit = store().begin()) {
      unit.writeTerms(soak.id(), SoakTerms.of(odd(2)));
      assertThat(unit.terms(soak.id())).contains(SoakTerms.of(odd(2)));
    }
    assertThat(terms(soak.id())).contains(SoakTerms.of(odd(1)));
    run(u -> u.deleteSoak(soak.id()));
    assertThat(terms(soak.id())).isEmpty();
  }

  @Test
  void summariesComeBackToTheLastBitWithWhatIsStoredOfTheirSoak() {
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSoak(soak));
    SoakSummary summary = summary(soak, 1.0 / 3);
    run(u -> u.writeSummary(summary));
    assertThat(text(summaries(9))).isEqualTo(text(List.of(summary)));
    Soak ended = soak("a", 0, 900, Soak.End.SILENCE);
    run(u -> u.writeSoak(ended));
    run(u -> u.writeSummary(summary(soak, 2.0 / 3)));
    assertThat(text(summaries(9))).isEqualTo(text(List.of(summary(ended, 2.0 / 3))));
  }

  @Test
  void theNewestSummariesOfATrackerAreThoseThatEndedLast() {
    List<Soak> soaks =
        List.of(soak("a", 0, 300, null), soak("b", 10, 100, null), soak("c", 20, 200, null));
    soaks.forEach(soak -> run(u -> u.writeSoak(soak)));
    soaks.forEach(soak -> run(u -> u.writeSummary(summary(soak, 5))));
    assertThat(summaries(2).stream().map(SoakSummary::soak).toList())
        .containsExactlyInAnyOrder(soaks.get(0).id(), soaks.get(2).id());
  }

  @Test
  void aSummaryGoesWithItsSoakAndWithAUnitThatIsNotCommitted() {
    Soak soak = soak("a", 0, 100, null);
    run(u -> u.writeSummary(summary(soak, 1)));
    assertThat(summaries(9)).as("of a soak that is not stored").isEmpty();
    run(u -> u.writeSoak(soak));
    try (Unit unit = store().begin()) {
      unit.writeSummary(summary(soak, 2));
    }
    assertThat(text(summaries(9))).isEqualTo(text(List.of(summary(soak, 1))));
    run(u -> u.deleteSoak(soak.id()));
    run(u -> u.writeSoak(soak));
    assertThat(summaries(9)).isEmpty();
  }

  private List<SoakSummary> summaries(int most) {
    return read(u -> u.summaries(most)).stream().filter(s -> s.tracker().equals(tracker)).toList();
  }

  private static SoakSummary summary(Soak soak, double value) {
    double[] series = {0, value, value * 7};
    FastResponse response = new FastResponse(value, -value, 1e-300, value / 7, -2e-9, 3);
    return new SoakSummary(
        soak.id(),
        soak.tracker(),
        soak.endUs(),
        !soak.open(),
        Estimate.of(31 + value, value, 1.96),
        List.of(Estimate.unknown("too \"short\""), Estimate.of(800 * value, value, 700, 900)),
        List.of(
            new RecordedCooling(new Cooling(value, 31, series, series, 0.01, 1e-3), null),
            new RecordedCooling(
                new Cooling(600, 31 + value, series, series, 0.01, 1e-3),
                List.of(response, response, FastResponse.BELIEVED))));
  }

  /** Arrays and all. */
  private static String text(List<SoakSummary> summaries) {
    StringBuilder out = new StringBuilder();
    for (SoakSummary s : summaries) {
      out.append(List.of(s.soak(), s.tracker(), s.endUs(), s.ended(), s.plateauC()));
      out.append(s.timeConstantsS());
      for (RecordedCooling r : s.coolings()) {
        Cooling c = r.cooling();
        out.append(List.of(c.startS(), c.startC(), c.dropSdC(), c.rateSdCPerS()));
        out.append(Arrays.toString(c.dropC())).append(Arrays.toString(c.rateCPerS()));
        out.append(r.response());
      }
    }
    return out.toString();
  }

  @Test
  void theNewestLimitsAreTheLastAdded() {
    LimitsChange first = new LimitsChange(START_US + 7, Origin.DEFAULTS, odd(1));
    // A clock may go back: what counts is the order of writing.
    LimitsChange second = new LimitsChange(START_US + 3, Origin.HTTP, odd(2));
    run(u -> u.addLimits(first));
    assertThat(newestLimits()).contains(first);
    run(u -> u.addLimits(second));
    assertThat(newestLimits()).contains(second);
    try (Unit unit = store().begin()) {
      unit.addLimits(new LimitsChange(START_US + 9, Origin.FILE, odd(3)));
      assertThat(unit.newestLimits().orElseThrow().origin()).isEqualTo(Origin.FILE);
    }
    assertThat(newestLimits()).contains(second);
  }

  /** Limits of which no two are the same, none of them a default. */
  private static Limits odd(double factor) {
    Map<LimitKey, Double> all = new EnumMap<>(LimitKey.class);
    for (LimitKey key : LimitKey.values()) {
      all.put(key, factor * (key.ordinal() + 1) / 3);
    }
    return LimitKey.limits(all);
  }

  @Test
  void theEarliestStaleSecondIsKeptUntilCleared() {
    run(u -> u.markStale(tracker, 50));
    run(u -> u.markStale(tracker, 40));
    run(u -> u.markStale(tracker, 60));
    assertThat(staleFrom()).contains(40L);
    assertThatList(read(Unit::staleTrackers)).contains(tracker);
    run(u -> u.clearStale(tracker));
    assertThat(staleFrom()).isEmpty();
    assertThatList(read(Unit::staleTrackers)).doesNotContain(tracker);
  }

  private Written write(List<Sample> samples) {
    return read(u -> u.writeSamples(samples));
  }

  private List<Sample> stored() {
    return read(u -> u.samples(tracker, 0, Long.MAX_VALUE));
  }

  private Optional<Long> staleFrom() {
    return read(u -> u.staleFrom(tracker));
  }

  private Optional<SoakTerms> terms(String soak) {
    return read(u -> u.terms(soak));
  }

  private Optional<LimitsChange> newestLimits() {
    return read(Unit::newestLimits);
  }

  private void run(Consumer<Unit> work) {
    read(
        unit -> {
          work.accept(unit);
          return null;
        });
  }

  private <T> T read(Function<Unit, T> work) {
    try (Unit unit = store().begin()) {
      T result = work.apply(unit);
      unit.commit();
      return result;
    }
  }

  /** To the last bit: doubles are printed so that no two different ones look the same. */
  private static void assertSame(List<Bin> found, List<Bin> expected) {
    assertThat(found.stream().map(SoakStoreContract::text).toList())
        .isEqualTo(expected.stream().map(SoakStoreContract::text).toList());
  }

  private static String text(Bin b) {
    return List.of(
            b.tracker(),
            b.second(),
            b.firstUs(),
            b.lastUs(),
            b.boot(),
            b.temperatureC(),
            Arrays.toString(b.gyroDps()),
            Arrays.toString(b.accelG()),
            b.temperatureStepC(),
            b.gyroStepDps())
        .toString();
  }

  private Sample sample(long afterUs) {
    return at(START_US + afterUs);
  }

  private Sample at(long timeUs) {
    return new Sample(
        tracker, timeUs, 24.31f, false, 0.31f, -0.12f, 0.05f, 0.01f, -0.02f, 0.99f, 9, 5);
  }

  private static Sample warmer(Sample s) {
    return copy(s, s.tracker(), s.temperatureC() + 1, s.temperatureHeld(), s.seq(), s.tMs());
  }

  private static Sample held(Sample s) {
    return copy(s, s.tracker(), s.temperatureC(), true, s.seq(), s.tMs());
  }

  private static Sample numbered(Sample s, long seq, long tMs) {
    return copy(s, s.tracker(), s.temperatureC(), s.temperatureHeld(), seq, tMs);
  }

  private static Sample copy(
      Sample s, String tracker, float temperatureC, boolean held, long seq, long tMs) {
    return new Sample(
        tracker,
        s.timeUs(),
        temperatureC,
        held,
        s.gxDps(),
        s.gyDps(),
        s.gzDps(),
        s.axG(),
        s.ayG(),
        s.azG(),
        seq,
        tMs);
  }

  private Bin bin(long second, double value) {
    Channel[] gyro = {
      new Channel(50, value, value / 3), new Channel(49, -value, 1e-300), new Channel(1, 0, NAN)
    };
    Channel[] accel = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    long firstUs = second * 1_000_000 + 3;
    return new Bin(
        tracker,
        second,
        firstUs,
        firstUs + 980_001,
        2,
        new Channel(50, value * 7, 0.01),
        gyro,
        accel,
        NAN,
        value / 7);
  }

  private Bin emptyBin(long second) {
    Channel[] none = {Channel.EMPTY, Channel.EMPTY, Channel.EMPTY};
    long firstUs = second * 1_000_000;
    return new Bin(tracker, second, firstUs, firstUs, 0, Channel.EMPTY, none, none, NAN, NAN);
  }

  private static final double NAN = Double.NaN;

  private Soak soak(String name, long fromUs, long toUs, Soak.End ended) {
    return new Soak(
        tracker + "@" + name, tracker, START_US + fromUs, START_US + toUs, toUs - fromUs, ended);
  }

  private static StateChange change(long afterUs, State state) {
    return new StateChange(START_US + afterUs, state, false);
  }
}
