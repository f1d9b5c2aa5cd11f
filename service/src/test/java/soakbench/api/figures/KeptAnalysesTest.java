package soakbench.api.figures;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import soakbench.api.figures.KeptAnalyses.Analysis;
import soakbench.live.Samples;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Tracker.Rates;
import soakbench.store.Database;
import soakbench.store.SharedServer;

/** What was worked out of a soak is answered again as long as it holds, and no longer. */
class KeptAnalysesTest {
  private static final double USE_C = 31;

  /** Of so many seconds none may be lacking. */
  private static final int SHORT_S = 400;

  private final List<Sample> all = new Samples.Maker().every(1).lines(2_600).samples();
  private final AtomicInteger worked = new AtomicInteger();

  private Database database;
  private SoakWatch watch;
  private KeptAnalyses analyses;

  @BeforeEach
  void open() {
    database = Database.open(SharedServer.empty());
    watch = new SoakWatch(database.soakStore(), Limits.DEFAULT, () -> Samples.START_US);
    analyses = keeping(10_000);
  }

  @AfterEach
  void close() {
    database.close();
  }

  private KeptAnalyses keeping(int seconds) {
    return new KeptAnalyses(database.archive(), this::bins, seconds);
  }

  private List<Bin> bins(Soak soak) {
    worked.incrementAndGet();
    return database.archive().bins(soak.tracker(), soak.startSecond(), soak.endSecond() + 1);
  }

  private Soak soak() {
    return soak(Samples.TRACKER);
  }

  private Soak soak(String tracker) {
    return database.archive().soakAt(tracker, Samples.START_US).orElseThrow();
  }

  private Analysis ask() {
    return analyses.of(soak(), USE_C, Rates.RAW);
  }

  private List<Sample> seconds(int from, int to) {
    return all.subList(from, to);
  }

  @Test
  void allWhoAskForASoakThatIsAsItWasGetOneAnalysis() {
    watch.accept(seconds(0, SHORT_S));
    Analysis first = ask();
    assertThat(IntStream.range(0, 8).parallel().mapToObj(i -> ask()).distinct())
        .containsExactly(first);
    assertThat(worked).hasValue(1);
  }

  @Test
  void whoeverAsksAtTheSameTimeWaitsForTheOneThatIsBeingWorkedOut() {
    watch.accept(seconds(0, SHORT_S));
    assertThat(IntStream.range(0, 8).parallel().mapToObj(i -> ask()).distinct()).hasSize(1);
    assertThat(worked).hasValue(1);
  }

  @Test
  void nothingOutdatedIsAnsweredWhateverChangesOfIt() {
    watch.accept(seconds(0, 100));
    watch.accept(seconds(110, SHORT_S));
    int before = ask().seconds();
    watch.accept(seconds(SHORT_S, SHORT_S + 1));
    assertThat(ask().seconds()).as("a newer second").isEqualTo(before + 1);
    watch.accept(seconds(100, 110));
    watch.settle();
    assertThat(ask().seconds()).as("ten late ones").isEqualTo(before + 11);
    watch.end(soak().id());
    assertThat(ask().soak().open()).as("it ended").isFalse();
    assertThat(worked).hasValue(4);
    analyses.of(soak(), USE_C, Rates.FOLLOWS);
    analyses.of(soak(), USE_C + 1, Rates.FOLLOWS);
    assertThat(worked).as("declared otherwise, used otherwise").hasValue(6);
  }

  @Test
  void ofALongSoakThatGoesOnTheNewestThousandthMayBeLackingAndNoMore() {
    watch.accept(seconds(0, 2_500));
    Analysis first = ask();
    watch.accept(seconds(2_500, 2_502));
    assertThat(ask()).isSameAs(first);
    watch.accept(seconds(2_502, 2_503));
    assertThat(ask().newestSecond()).isEqualTo(first.newestSecond() + 3);
    // A late one is no newest one, however few there are.
    Analysis second = ask();
    watch.accept(List.of(late()));
    watch.settle();
    assertThat(ask()).isNotSameAs(second);
    watch.end(soak().id());
    ask();
    assertThat(ask().soak()).isEqualTo(soak());
  }

  private Sample late() {
    Sample s = all.get(1_000);
    return new Sample(
        s.tracker(), s.timeUs() + 300_000, 40, false, 9, 9, 9, 0, 0, 1, s.seq() + 1, s.tMs() + 300);
  }

  @Test
  void thoseNotAskedForLongestAreForgotten() {
    analyses = keeping(700);
    for (String tracker : List.of("K-1", "K-2")) {
      watch.accept(new Samples.Maker().named(tracker).every(1).lines(SHORT_S).samples());
    }
    for (String tracker : List.of("K-1", "K-2", "K-2", "K-1")) {
      analyses.of(soak(tracker), USE_C, Rates.RAW);
    }
    assertThat(worked).hasValue(3);
  }
}
