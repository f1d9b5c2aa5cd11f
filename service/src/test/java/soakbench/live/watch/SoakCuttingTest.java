package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Soak.End;
import soakbench.model.State;
import soakbench.model.StateChange;

/** Where one soak ends and the next begins, on both sides of each limit. */
class SoakCuttingTest {
  private final MemoryStore store = new MemoryStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private final SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, clock);

  private static List<End> ends(Samples.Maker maker) {
    List<Sample> samples = maker.samples();
    StoreContents kept = StoreContents.replayed(samples);
    long counted = kept.soaks().stream().mapToLong(Soak::samples).sum();
    assertThat(counted).isEqualTo(samples.size());
    return kept.soaks().stream().map(Soak::ended).toList();
  }

  private static Samples.Maker run() {
    return new Samples.Maker().lines(65);
  }

  @Test
  void tenMinutesOfSilenceEndASoak() {
    // The last line is a tenth of a second old when the quiet begins.
    assertThat(ends(run().quiet(599.8).lines(5))).containsExactly((End) null);
    assertThat(ends(run().quiet(600.2).lines(5))).containsExactly(End.SILENCE, null);
  }

  @Test
  void aRebootMoreThanThreeMinutesLaterEndsASoak() {
    assertThat(ends(run().quiet(179.8).reboot().lines(5))).containsExactly((End) null);
    assertThat(ends(run().quiet(180.2).reboot().lines(5))).containsExactly(End.LATE_REBOOT, null);
  }

  @Test
  void threeMinutesOfSilenceWithoutARebootEndNone() {
    assertThat(ends(run().quiet(300).lines(5))).containsExactly((End) null);
  }

  @Test
  void aRebootMoreThanOneDegreeCoolerEndsASoak() {
    assertThat(ends(run().quiet(20).reboot().at(24.1).lines(5))).containsExactly((End) null);
    assertThat(ends(run().quiet(20).reboot().at(23.9).lines(5)))
        .containsExactly(End.COOLER_REBOOT, null);
    assertThat(ends(run().quiet(20).reboot().at(27).lines(5))).containsExactly((End) null);
  }

  @Test
  void coolingWithoutARebootEndsNone() {
    assertThat(ends(run().quiet(20).at(23).lines(5))).containsExactly((End) null);
  }

  @Test
  void aShortRebootStaysInsideTheSoakAndIsCounted() {
    StoreContents kept =
        StoreContents.replayed(run().quiet(8).reboot().lines(65).reboot().lines(5).samples());
    assertThat(kept.soaks()).hasSize(1);
    assertThat(kept.bins().get(0).boot()).isZero();
    assertThat(kept.bins().get(kept.bins().size() - 1).boot()).isEqualTo(2);
  }

  @Test
  void aNewSoakCountsItsBootsFromZero() {
    StoreContents kept =
        StoreContents.replayed(run().reboot().lines(65).quiet(200).reboot().lines(5).samples());
    assertThat(kept.soaks()).hasSize(2);
    assertThat(kept.bins().get(kept.bins().size() - 1).boot()).isZero();
  }

  @Test
  void aWrapOfTheMillisecondCounterIsNoReboot() {
    long nearWrap = (1L << 32) - 30_000;
    StoreContents kept =
        StoreContents.replayed(new Samples.Maker().bootAt(nearWrap).lines(65).samples());
    assertThat(kept.bins()).allMatch(b -> b.boot() == 0);
    // The same fall of the counter far from the wrap is one.
    StoreContents far =
        StoreContents.replayed(
            new Samples.Maker().bootAt(1L << 31).lines(30).reboot().lines(5).samples());
    assertThat(far.bins().get(far.bins().size() - 1).boot()).isEqualTo(1);
  }

  @Test
  void aLineCounterThatBeginsAgainShowsARebootWhereThereIsNoClock() {
    Samples.Maker maker = new Samples.Maker().withoutClock().lines(65).quiet(200).reboot();
    assertThat(ends(maker.lines(5))).containsExactly(End.LATE_REBOOT, null);
  }

  @Test
  void whatIsTakenOffByHandBeginsAnotherSoakWithTheNextSecond() {
    List<Sample> all = run().lines(60).samples();
    watch.accept(all.subList(0, 655));
    String first = watch.readiness(Samples.TRACKER).orElseThrow().soak();
    Soak ended = watch.end(first).orElseThrow();
    assertThat(ended.ended()).isEqualTo(End.TAKEN_OFF);
    assertThat(ended.samples()).isEqualTo(655);
    assertThat(watch.readiness(Samples.TRACKER)).isEmpty();
    watch.accept(all.subList(655, all.size()));
    watch.finish();
    StoreContents kept = StoreContents.of(store, Samples.TRACKER);
    assertThat(kept.soaks()).extracting(Soak::ended).containsExactly(End.TAKEN_OFF, null);
    assertThat(kept.soaks().get(0).endUs()).isEqualTo(all.get(659).timeUs());
    assertThat(kept.soaks().get(1).startUs()).isEqualTo(all.get(660).timeUs());
    assertThat(kept.soaks().stream().mapToLong(Soak::samples).sum()).isEqualTo(all.size());
  }

  @Test
  void anEndByHandOutlastsLateSamplesAndRestarts() {
    List<Sample> all = run().lines(60).samples();
    watch.accept(all.subList(0, 300));
    watch.accept(all.subList(310, 650));
    watch.end(watch.readiness(Samples.TRACKER).orElseThrow().soak());
    watch.accept(all.subList(300, 310));
    watch.settle();
    assertThat(watch.readiness(Samples.TRACKER)).isEmpty();
    SoakWatch again = new SoakWatch(store, Limits.DEFAULT, clock);
    again.restore();
    assertThat(again.readiness()).isEmpty();
    again.accept(all.subList(650, all.size()));
    again.finish();
    StoreContents kept = StoreContents.of(store, Samples.TRACKER);
    assertThat(kept.soaks()).extracting(Soak::ended).containsExactly(End.TAKEN_OFF, null);
    assertThat(kept.soaks()).extracting(Soak::samples).containsExactly(650L, 600L);
  }

  @Test
  void anEndByHandIncludesWhatWasOnlyDelayedWhileTheClockToldASilence() {
    List<Sample> all = run().samples();
    watch.accept(all.subList(0, 500));
    clock.pass(12);
    watch.tick();
    assertThat(watch.readiness(Samples.TRACKER).orElseThrow().state()).isEqualTo(State.SILENT);
    watch.accept(all.subList(500, 580));
    Soak ended = watch.end(watch.readiness(Samples.TRACKER).orElseThrow().soak()).orElseThrow();
    assertThat(ended.endUs()).isEqualTo(all.get(579).timeUs());
    assertThat(ended.samples()).isEqualTo(580);
    watch.finish();
    StoreContents kept = StoreContents.of(store, Samples.TRACKER);
    assertThat(kept.soaks()).containsExactly(ended);
    assertThat(kept.timeline(0)).extracting(StateChange::state).doesNotContain(State.SILENT);
  }

  @Test
  void anEndByHandOutlastsARestartWhileTheRestOfItsSecondIsTheNewestThatIsClosed() {
    List<Sample> all = run().lines(60).samples();
    watch.accept(all.subList(0, 655));
    watch.end(watch.readiness(Samples.TRACKER).orElseThrow().soak());
    watch.accept(all.subList(655, 665));
    watch.tick();
    assertThat(StoreContents.of(store, Samples.TRACKER).soaks().get(0).samples()).isEqualTo(660);
    SoakWatch again = new SoakWatch(store, Limits.DEFAULT, clock);
    again.restore();
    again.accept(all.subList(665, all.size()));
    again.finish();
    StoreContents kept = StoreContents.of(store, Samples.TRACKER);
    assertThat(kept.soaks()).extracting(Soak::ended).containsExactly(End.TAKEN_OFF, null);
    assertThat(kept.soaks()).extracting(Soak::samples).containsExactly(660L, 590L);
  }

  @Test
  void anUnknownSoakCanNotBeEnded() {
    watch.accept(run().samples());
    assertThat(watch.end("T-0412@nothing")).isEmpty();
    assertThat(watch.readiness()).hasSize(1);
  }

  @Test
  void trackersDoNotTouchEachOther() {
    List<Sample> one = new Samples.Maker().named("T-1").lines(65).samples();
    List<Sample> two = new Samples.Maker().named("T-2").lines(65).quiet(700).lines(70).samples();
    List<Sample> both = Stream.concat(one.stream(), two.stream()).toList();
    watch.accept(both);
    watch.finish();
    StoreContents.of(store, "T-1").isSameAs(StoreContents.replayed(one));
    StoreContents.of(store, "T-2").isSameAs(StoreContents.replayed(two));
  }
}
