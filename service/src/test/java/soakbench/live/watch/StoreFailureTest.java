package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.live.Samples;
import soakbench.live.SomeLimits;
import soakbench.live.StoreContents;
import soakbench.live.memory.FaultyStore;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Soak.End;
import soakbench.model.State;
import soakbench.readiness.Readiness;

/** The store fails once, at every call in turn; whoever asked asks again. */
class StoreFailureTest {
  private static final String OTHER = "T-0413";
  private static final Limits STRICTER = SomeLimits.with(LimitKey.STILL_FOR_S, 10);

  /** The same pieces of each, counted in lines, last as long as its lines are apart. */
  private enum Speed {
    TEN_LINES_A_SECOND(30, 20, 40),
    TWENTY_LINES_A_SECOND(15, 10, 20);

    final List<Sample> samples;
    final List<Sample> others;

    Speed(double firstS, double thenS, double otherS) {
      double apartS = otherS / 400;
      samples = new Samples.Maker().every(apartS).lines(firstS).quiet(15).lines(thenS).samples();
      others = new Samples.Maker().named(OTHER).every(apartS).lines(otherS).samples();
    }
  }

  /**
   * A short life with all there is: batches, silence, late samples, other limits, an end by hand, a
   * restart.
   */
  private static StoredLife live(FaultyStore store, Speed speed) {
    List<Sample> samples = speed.samples;
    List<Sample> others = speed.others;
    StoredLife life = new StoredLife(store);
    send(life, samples.subList(0, 5));
    send(life, samples.subList(5, 90));
    send(life, others.subList(0, 100));
    send(life, samples.subList(110, 300));
    life.pass(12);
    send(life, samples.subList(90, 110));
    life.pass(6);
    life.change(STRICTER);
    send(life, samples.subList(300, 500));
    send(life, others.subList(100, 250));
    life.end(OTHER);
    life.restart();
    send(life, others.subList(250, 400));
    life.pass(6);
    life.finish();
    return life;
  }

  private static void send(StoredLife life, List<Sample> samples) {
    life.send(samples);
    life.pass(1);
  }

  /** Each call fails in one of the two ways; in the bench form in both. */
  @ParameterizedTest
  @ValueSource(booleans = {false, true})
  void aFailureAtAnyCallChangesNothingAfterARetry(boolean afterwards) {
    changesNothing(Speed.TWENTY_LINES_A_SECOND, afterwards, afterwards ? 1 : 2, 2);
  }

  @ParameterizedTest
  @EnumSource
  @Tag("bench")
  void aFailureAtAnyCallInEitherWayChangesNothingAfterARetry(Speed speed) {
    changesNothing(speed, false, 1, 1);
    changesNothing(speed, true, 1, 1);
  }

  private static void changesNothing(Speed speed, boolean afterwards, int first, int step) {
    FaultyStore sound = new FaultyStore(-1, afterwards);
    StoredLife expected = live(sound, speed);
    int calls = sound.calls();
    StoreContents kept = StoreContents.of(sound, Samples.TRACKER);
    StoreContents others = StoreContents.of(sound, OTHER);
    assertThat(kept.soaks().get(0).samples()).isEqualTo(speed.samples.size());
    assertThat(others.soaks()).extracting(Soak::ended).containsExactly(End.TAKEN_OFF, null);
    assertThat(others.soaks().get(0).endSecond()).isEqualTo(speed.others.get(249).second());
    assertThat(calls).isGreaterThan(120);
    for (int n = first; n <= calls; n += step) {
      FaultyStore faulty = new FaultyStore(n, afterwards);
      StoredLife life = live(faulty, speed);
      assertThat(life.watch().limits()).as("call %s", n).isEqualTo(STRICTER);
      assertThat(life.failures()).as("call %s", n).isEqualTo(1);
      StoreContents.of(faulty, Samples.TRACKER).isSameAs(kept);
      StoreContents.of(faulty, OTHER).isSameButForMarksAs(others);
      assertThat(life.watch().readiness())
          .usingRecursiveComparison()
          .isEqualTo(expected.watch().readiness());
    }
  }

  @Test
  void aFailureDoesNotPutOffASilence() {
    FaultyStore sound = new FaultyStore(-1, false);
    quietForNineSeconds(sound);
    StoredLife life = quietForNineSeconds(new FaultyStore(sound.calls() + 1, false));
    life.pass(0);
    assertThat(life.failures()).isEqualTo(1);
    life.pass(2);
    assertThat(life.watch().readiness()).extracting(Readiness::state).containsOnly(State.SILENT);
  }

  private static StoredLife quietForNineSeconds(FaultyStore store) {
    StoredLife life = new StoredLife(store);
    life.send(Speed.TEN_LINES_A_SECOND.others);
    life.pass(9);
    return life;
  }
}
