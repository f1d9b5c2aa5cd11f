package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import soakbench.live.ManualClock;
import soakbench.live.Samples;
import soakbench.live.SoakStore.Moved;
import soakbench.live.StoreContents;
import soakbench.live.memory.MemoryStore;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;

/** What was recorded under a wrong id, given to the tracker that it is of. */
class MergingTest {
  private static final String RIGHT = Samples.TRACKER;
  private static final String WRONG = "T-0999";
  private static final long IMPORT = 3;

  private final MemoryStore store = new MemoryStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private final SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, clock);

  private static List<Sample> wrong(List<Sample> samples) {
    return samples.stream().map(s -> s.of(WRONG)).toList();
  }

  private Moved merge() {
    Merging merging = watch.merge(WRONG, RIGHT).orElseThrow();
    Moved all = new Moved(0, 0);
    Optional<Moved> some = watch.mergeNext(merging);
    while (some.isPresent()) {
      all = new Moved(all.moved() + some.get().moved(), all.aside() + some.get().aside());
      some = watch.mergeNext(merging);
    }
    watch.settle();
    return all;
  }

  private void isAsIfAlwaysRight(List<Sample> all) {
    watch.finish();
    ended(StoreContents.of(store, RIGHT)).isSameButForMarksAs(ended(StoreContents.replayed(all)));
    StoreContents left = StoreContents.of(store, WRONG);
    assertThat(left.soaks()).isEmpty();
    assertThat(left.bins()).isEmpty();
  }

  /** What was recorded under the wrong id has ended when it is merged. */
  private static StoreContents ended(StoreContents contents) {
    List<Soak> soaks =
        contents.soaks().stream().map(s -> s.open() ? s.endedBy(Soak.End.SILENCE) : s).toList();
    return new StoreContents(soaks, contents.timelines(), contents.bins());
  }

  /** Three soaks: the second begins with a late reboot, the third a day later. */
  private static List<Sample> threeSoaks() {
    Samples.Maker maker = new Samples.Maker().lines(200).quiet(240).reboot().lines(150);
    return maker.quiet(86_400).lines(100).samples();
  }

  @Test
  void aTrackerThatWasNeverHeardGetsAllOfIt() {
    List<Sample> all = threeSoaks();
    watch.accept(wrong(all));
    assertThat(merge()).isEqualTo(new Moved(all.size(), 0));
    isAsIfAlwaysRight(all);
    assertThat(StoreContents.of(store, RIGHT).soaks()).hasSize(3);
    assertThat(watch.readiness(WRONG)).isEmpty();
  }

  @Test
  void soaksBesideAndWithinTheOthersEndUpWhereTheyWouldHaveBeen() {
    List<Sample> all = threeSoaks();
    List<Sample> right = new ArrayList<>();
    List<Sample> strayed = new ArrayList<>();
    for (Sample s : all) {
      double tS = (s.timeUs() - Samples.START_US) / 1e6;
      (tS >= 60 && tS < 120 || tS > 80_000 ? strayed : right).add(s);
    }
    watch.accept(right);
    watch.accept(wrong(strayed));
    assertThat(merge()).isEqualTo(new Moved(strayed.size(), 0));
    isAsIfAlwaysRight(all);
  }

  @Test
  void whereBothHaveASampleThatOfTheRightIdStaysAndTheOtherIsSetAside() {
    List<Sample> all = new Samples.Maker().lines(100).samples();
    watch.accept(all);
    watch.accept(wrong(all.subList(500, 600)).stream().map(s -> s.withTemperatureC(40)).toList());
    assertThat(merge()).isEqualTo(new Moved(0, 100));
    isAsIfAlwaysRight(all);
  }

  @Test
  void oneThatIsHeardNowIsNotMerged() {
    watch.useLiveness(tracker -> OptionalLong.of(clock.nowUs()));
    watch.accept(wrong(new Samples.Maker().lines(100).samples()));
    assertThat(watch.merge(WRONG, RIGHT)).isEmpty();
    assertThat(StoreContents.of(store, WRONG).soaks()).hasSize(1);
  }

  @Test
  void whatAnImportBroughtUnderTheWrongIdIsTakenOutOfTheRightOne() {
    Samples.Maker maker = new Samples.Maker().lines(100);
    List<Sample> first = maker.samples();
    List<Sample> two = maker.quiet(3600).lines(100).samples();
    List<Sample> all = maker.quiet(3600).lines(100).samples();
    List<Sample> right = new ArrayList<>(first);
    right.addAll(all.subList(two.size(), all.size()));
    watch.accept(right);
    watch.accept(wrong(two.subList(first.size(), two.size())), IMPORT);
    watch.accept(wrong(first.subList(0, 200)), IMPORT);
    merge();
    while (watch.takeOut(IMPORT).isPresent()) {
      continue;
    }
    isAsIfAlwaysRight(right);
  }
}
