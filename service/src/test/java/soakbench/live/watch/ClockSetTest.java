package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.live.ManualClock;
import soakbench.live.SampleSink;
import soakbench.live.Samples;
import soakbench.live.SoakStore;
import soakbench.live.StaleRange;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Soak.End;

/** A tracker whose clock is set back while it is watched. */
class ClockSetTest {
  private final MemoryStore store = new MemoryStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private SoakWatch watch = watch();
  private long streamUs = Long.MIN_VALUE;

  private SoakWatch watch() {
    SoakWatch one = new SoakWatch(store, Limits.DEFAULT, clock);
    one.useLiveness(
        t -> streamUs == Long.MIN_VALUE ? OptionalLong.empty() : OptionalLong.of(streamUs));
    return one;
  }

  static List<Sample> shifted(List<Sample> samples, double seconds) {
    long us = Math.round(seconds * 1e6);
    return samples.stream().map(s -> at(s, s.timeUs() + us)).toList();
  }

  private static Sample at(Sample s, long timeUs) {
    return new Sample(
        s.tracker(),
        timeUs,
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

  /** Samples arrive second by second, as measured now. */
  private void live(List<Sample> samples) {
    for (int from = 0; from < samples.size(); from += 10) {
      List<Sample> second = samples.subList(from, Math.min(samples.size(), from + 10));
      streamUs = second.get(second.size() - 1).timeUs();
      clock.pass(1);
      watch.accept(second);
      watch.tick();
    }
  }

  private StoreContents kept() {
    return StoreContents.of(store, Samples.TRACKER);
  }

  private long asOfUs() {
    return watch.readiness(Samples.TRACKER).orElseThrow().asOfUs();
  }

  private void isAsReplayed() {
    watch.settle();
    StoreContents now = kept();
    List<Sample> stored;
    try (SoakStore.Unit unit = store.begin()) {
      stored = unit.samples(Samples.TRACKER, Long.MIN_VALUE, Long.MAX_VALUE);
    }
    assertThat(now.soaks().stream().mapToLong(Soak::samples).sum())
        .isLessThanOrEqualTo(stored.size());
    SoakWatch again = watch();
    again.restore();
    try (SoakStore.Unit unit = store.begin()) {
      // Everything made anew from the stored samples.
      unit.markStale(Map.of(Samples.TRACKER, new StaleRange(0, Samples.START_S + 100_000)));
      unit.commit();
    }
    again = watch();
    again.restore();
    again.settle();
    kept().isSameButForMarksAs(now);
  }

  @ParameterizedTest
  @ValueSource(doubles = {-10_800, -840_000_000, -30, -60.05})
  void theSoakIsCutAndTheNewTimeIsJudgedAtOnce(double byS) {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 1000));
    List<Sample> back = shifted(all.subList(1000, 2000), byS);
    live(back);
    StoreContents kept = kept();
    assertThat(kept.soaks()).filteredOn(s -> s.ended() == End.CLOCK_SET).hasSize(1);
    Soak open = kept.soaks().stream().filter(Soak::open).findFirst().orElseThrow();
    assertThat(open.startUs()).isEqualTo(back.get(0).timeUs());
    assertThat(asOfUs()).isGreaterThan(back.get(999).timeUs() - 5_000_000);
    isAsReplayed();
    assertThat(store.tables.samples.get(Samples.TRACKER).size() + aside()).isEqualTo(2000);
  }

  private int aside() {
    return store.tables.aside.containsKey(Samples.TRACKER)
        ? store.tables.aside.get(Samples.TRACKER).size()
        : 0;
  }

  @Test
  void aClockThatWasAheadForTenSecondsWaitsForNothing() {
    List<Sample> all = new Samples.Maker().lines(300).samples();
    live(all.subList(0, 1000));
    live(shifted(all.subList(1000, 1100), 50));
    live(all.subList(1100, 1200));
    assertThat(asOfUs()).isBetween(all.get(1100).timeUs(), all.get(1199).timeUs());
    live(all.subList(1200, 3000));
    assertThat(asOfUs()).isGreaterThan(all.get(2999).timeUs() - 5_000_000);
    StoreContents kept = kept();
    assertThat(kept.soaks()).extracting(Soak::ended).containsExactly(End.CLOCK_SET, null);
    assertThat(kept.soaks()).extracting(Soak::samples).containsExactly(1000L, 1880L);
    assertThat(aside()).isEqualTo(100);
    isAsReplayed();
  }

  @Test
  void aRestartGoesOnWithTheNewTime() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 1000));
    List<Sample> back = shifted(all.subList(1000, 2000), -10_800);
    live(back.subList(0, 500));
    watch = watch();
    watch.restore();
    assertThat(watch.readiness(Samples.TRACKER).orElseThrow().soak())
        .isEqualTo(SoakRun.id(Samples.TRACKER, back.get(0).timeUs()));
    live(back.subList(500, 1000));
    assertThat(kept().soaks()).hasSize(2);
    isAsReplayed();
  }

  @Test
  void singleLinesOfAnotherTimeStayLateLines() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 1000));
    for (int i = 0; i < 20; i++) {
      live(all.subList(1000 + 10 * i, 1010 + 10 * i));
      Sample lone = shifted(all.subList(i, i + 1), -840_000_000 + 100_000.0 * i).get(0);
      streamUs = lone.timeUs();
      watch.accept(List.of(lone));
    }
    assertThat(kept().soaks()).noneMatch(s -> s.ended() == End.CLOCK_SET);
    assertThat(watch.readiness(Samples.TRACKER)).isPresent();
  }

  @Test
  void secondsOfAnotherSoakStayWhatTheyAreAndTheVerdictGoesOn() {
    List<Sample> all = new Samples.Maker().lines(400).samples();
    live(all.subList(0, 500));
    List<Sample> back = shifted(all.subList(500, 3000), -150.05);
    live(back.subList(0, 1100));
    assertThat(asOfUs()).isGreaterThan(back.get(1099).timeUs() - 5_000_000);
    live(back.subList(1100, 2500));
    StoreContents kept = kept();
    assertThat(kept.soaks())
        .extracting(Soak::ended)
        .containsExactly(End.CLOCK_SET, End.CLOCK_SET, null);
    assertThat(kept.soaks().get(1).samples()).isEqualTo(500);
    assertThat(aside()).isPositive();
    isAsReplayed();
  }

  @Test
  void whatComesLateAfterTheSecondsOfAnotherSoakWerePassedIsWorkedIn() {
    List<Sample> all = new Samples.Maker().lines(400).samples();
    live(all.subList(0, 500));
    List<Sample> back = shifted(all.subList(500, 3000), -150.05);
    live(back.subList(0, 1800));
    live(back.subList(1820, 2300));
    watch.accept(back.subList(1800, 1820));
    live(back.subList(2300, 2500));
    assertThat(store.reader().staleTrackers()).isEmpty();
    assertThat(kept().soaks()).hasSize(3);
    watch.finish();
    assertThat(kept().soaks().stream().mapToLong(Soak::samples).sum() + aside()).isEqualTo(3000);
    isAsReplayed();
  }

  /** What a sender posts at once. */
  private void request(List<Sample> samples, double afterS) {
    clock.pass(afterS);
    streamUs = samples.get(samples.size() - 1).timeUs();
    watch.accept(samples);
    watch.tick();
  }

  @Test
  void aRequestThatAnotherOneOvertookCutsNothing() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 1000));
    request(all.subList(1100, 1200), 1);
    request(all.subList(1000, 1100), 1);
    live(all.subList(1200, 2000));
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void twoThatWereOvertakenCutNothingWhereTheLaterTimeComesBetween() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 1000));
    request(all.subList(1200, 1250), 1);
    request(all.subList(1000, 1100), 1);
    request(all.subList(1250, 1300), 2);
    request(all.subList(1100, 1200), 2);
    live(all.subList(1300, 2000));
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void whatIsOnlySentAgainCutsNothing() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 1000));
    live(all.subList(800, 860));
    live(all.subList(1000, 2000));
    watch.finish();
    kept().isSameAs(StoreContents.replayed(all));
  }

  @Test
  void theClockOfASenderThatPostsOnceAMinuteMayBeSetBackToo() {
    List<Sample> all = new Samples.Maker().lines(300).samples();
    live(all.subList(0, 1000));
    List<Sample> back = shifted(all.subList(1000, 2800), -3600);
    for (int from = 0; from < 1800; from += 600) {
      request(back.subList(from, from + 600), 60);
    }
    StoreContents kept = kept();
    assertThat(kept.soaks()).extracting(Soak::ended).containsExactly(null, End.CLOCK_SET);
    assertThat(kept.soaks().get(0).startUs()).isEqualTo(back.get(0).timeUs());
    assertThat(asOfUs()).isGreaterThan(back.get(1799).timeUs() - 5_000_000);
  }

  @Test
  void whatWasSetAsideAndComesAgainIsKnown() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 1000));
    live(shifted(all.subList(1000, 1500), -30.05));
    List<Sample> again = new ArrayList<>(all.subList(900, 1000));
    assertThat(watch.accept(again)).isEqualTo(new SampleSink.Outcome(0, 100, 0));
  }
}
