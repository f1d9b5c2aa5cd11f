package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
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

/** Samples of an import taken out again: what is left is as if they had never come. */
class TakingOutTest {
  private static final long IMPORT = 7;

  private final MemoryStore store = new MemoryStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private final SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, clock);

  private static List<Sample> between(List<Sample> all, double fromS, double toS) {
    return all.stream()
        .filter(
            s -> {
              double tS = (s.timeUs() - Samples.START_US) / 1e6;
              return tS >= fromS && tS < toS;
            })
        .toList();
  }

  private static List<Sample> and(List<Sample> a, List<Sample> b) {
    return Stream.concat(a.stream(), b.stream()).toList();
  }

  private long takeAllOut() {
    long taken = 0;
    for (var some = watch.takeOut(IMPORT); some.isPresent(); some = watch.takeOut(IMPORT)) {
      taken += some.getAsLong();
    }
    return taken;
  }

  private StoreContents kept() {
    return StoreContents.of(store, Samples.TRACKER);
  }

  private void isAsIfOnlyThereWere(List<Sample> samples) {
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(samples));
  }

  @Test
  void aGapThatTheyFilledIsAGapAgain() {
    List<Sample> all = new Samples.Maker().lines(300).samples();
    List<Sample> live = and(between(all, 0, 100), between(all, 150, 300));
    watch.accept(live);
    watch.accept(between(all, 80, 170), IMPORT);
    watch.settle();
    assertThat(kept().bins()).hasSizeGreaterThan(295);
    assertThat(takeAllOut()).isEqualTo(500);
    isAsIfOnlyThereWere(live);
  }

  @Test
  void twoSoaksThatTheyHadJoinedAreTwoAgain() {
    List<Sample> all = new Samples.Maker().lines(1200).samples();
    List<Sample> live = and(between(all, 0, 200), between(all, 1000, 1200));
    watch.accept(live);
    assertThat(kept().soaks()).hasSize(2);
    watch.accept(between(all, 200, 1000), IMPORT);
    watch.settle();
    assertThat(kept().soaks()).hasSize(1);
    takeAllOut();
    assertThat(kept().soaks()).hasSize(2);
    isAsIfOnlyThereWere(live);
  }

  @Test
  void theBeginningThatTheyHadMovedIsWhereItWas() {
    List<Sample> all = new Samples.Maker().lines(400).samples();
    List<Sample> live = between(all, 200, 400);
    watch.accept(live);
    watch.accept(between(all, 0, 250), IMPORT);
    watch.settle();
    assertThat(kept().soaks().get(0).startUs()).isEqualTo(Samples.START_US);
    takeAllOut();
    isAsIfOnlyThereWere(live);
  }

  @Test
  void soaksOfTheirOwnGoAndOthersOfTheTrackerStay() {
    Samples.Maker maker = new Samples.Maker().lines(100);
    maker.quiet(3600).lines(100).quiet(3600).lines(100).quiet(3600).lines(100);
    List<Sample> all = maker.samples();
    List<Sample> live = and(between(all, 3000, 4000), between(all, 11_000, 12_000));
    watch.accept(live);
    watch.accept(between(all, 0, 200), IMPORT);
    watch.accept(between(all, 7000, 8000), IMPORT);
    watch.settle();
    assertThat(kept().soaks()).hasSize(4);
    assertThat(takeAllOut()).isEqualTo(2000);
    isAsIfOnlyThereWere(live);
  }

  @Test
  void aTrackerThatOnlyTheyKnewIsGoneAndItsVerdictWithIt() {
    watch.accept(new Samples.Maker().lines(100).samples(), IMPORT);
    assertThat(watch.readiness(Samples.TRACKER)).isPresent();
    assertThat(takeAllOut()).isEqualTo(1000);
    assertThat(watch.readiness(Samples.TRACKER)).isEmpty();
    assertThat(kept().soaks()).isEmpty();
    assertThat(kept().bins()).isEmpty();
    List<Sample> again = new Samples.Maker().lines(60).samples();
    watch.accept(again);
    isAsIfOnlyThereWere(again);
  }

  @Test
  void whatComesLiveMeanwhileStaysAndIsJudgedOn() {
    List<Sample> all = new Samples.Maker().lines(600).samples();
    watch.accept(between(all, 0, 300));
    watch.accept(between(all, 100, 350), IMPORT);
    watch.accept(between(all, 310, 400));
    takeAllOut();
    watch.accept(between(all, 400, 600));
    // What had come by the import first counts as the import's.
    List<Sample> left =
        and(and(between(all, 0, 300), between(all, 350, 400)), between(all, 400, 600));
    isAsIfOnlyThereWere(left);
    assertThat(watch.readiness(Samples.TRACKER).orElseThrow().asOfUs())
        .isGreaterThan(Samples.START_US + 595_000_000L);
  }

  @Test
  void theEndThatAPersonGaveIsKept() {
    List<Sample> all = new Samples.Maker().lines(400).samples();
    watch.accept(between(all, 0, 100));
    String soak = kept().soaks().get(0).id();
    watch.end(soak);
    watch.accept(between(all, 110, 200));
    watch.accept(between(all, 20, 30), IMPORT);
    watch.accept(between(all, 95, 130), IMPORT);
    watch.settle();
    takeAllOut();
    watch.finish();
    assertThat(kept().soaks()).extracting(Soak::ended).containsExactly(Soak.End.TAKEN_OFF, null);
    assertThat(kept().soaks()).extracting(Soak::samples).containsExactly(1000L, 900L);
  }

  @Test
  void anOldRecordingSaysNothingOfTheClockOfATrackerThatIsHeardNow() {
    Samples.Maker maker = new Samples.Maker().lines(200);
    List<Sample> old = maker.samples();
    List<Sample> all = maker.quiet(86_400).lines(100).samples();
    List<Sample> now = new ArrayList<>(all.subList(old.size(), all.size()));
    watch.useLiveness(
        tracker -> java.util.OptionalLong.of(now.get(now.size() - 1).timeUs() - 10_000_000L));
    watch.accept(now);
    for (int from = 0; from < old.size(); from += 100) {
      watch.accept(old.subList(from, from + 100), IMPORT);
      clock.pass(1);
    }
    watch.settle();
    assertThat(kept().soaks()).extracting(Soak::ended).doesNotContain(Soak.End.CLOCK_SET);
    takeAllOut();
    isAsIfOnlyThereWere(now);
  }

  @Test
  void aNewProgramOverTheSameStoreSeesTheSame() {
    List<Sample> all = new Samples.Maker().lines(300).samples();
    List<Sample> live = and(between(all, 0, 100), between(all, 150, 300));
    watch.accept(live);
    watch.accept(between(all, 80, 170), IMPORT);
    // Late ones not derived yet, and the program dies.
    SoakWatch next = new SoakWatch(store, Limits.DEFAULT, clock);
    next.restore();
    while (next.takeOut(IMPORT).isPresent()) {
      continue;
    }
    next.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(live));
  }
}
