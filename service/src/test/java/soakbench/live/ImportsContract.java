package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatList;
import static org.assertj.core.api.Assertions.assertThatObject;

import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Moved;
import soakbench.live.SoakStore.Unit;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.State;

/** What every store must do with samples that came by an import, or under a wrong id. */
interface ImportsContract extends StoreInTest {
  long S = 1_000_000;

  /** An import of the test's own. */
  private long imported() {
    return 1 + Math.abs((long) tracker().hashCode());
  }

  private String other() {
    return tracker() + "-other";
  }

  private List<Sample> seconds(int from, int to) {
    return IntStream.range(from, to).mapToObj(i -> sample(i * S)).toList();
  }

  private ImportedStretch stretch(int from, int to) {
    return new ImportedStretch(tracker(), START_US + from * S, START_US + to * S);
  }

  private void bring(List<Sample> samples) {
    run(u -> u.noteImported(imported(), u.writeSamples(samples).fresh()));
  }

  @Test
  default void exactlyWhatAnImportBroughtIsTakenOut() {
    write(seconds(3, 6));
    bring(seconds(0, 10));
    write(seconds(10, 12));
    assertThatObject(read(u -> u.countImported(imported(), stretch(0, 20)))).isEqualTo(7L);
    assertThatObject(read(u -> u.takeOut(imported(), stretch(0, 20)))).isEqualTo(7L);
    assertThatList(stored())
        .containsExactlyElementsOf(
            java.util.stream.Stream.concat(seconds(3, 6).stream(), seconds(10, 12).stream())
                .toList());
    assertThatObject(read(u -> u.nextImported(imported(), ""))).isEqualTo(Optional.empty());
    assertThatObject(read(u -> u.takeOut(imported(), stretch(0, 20)))).isEqualTo(0L);
  }

  @Test
  default void theNextStretchReachesAsFarAsTheSoakThatItLiesIn() {
    bring(seconds(0, 5));
    bring(seconds(5, 8));
    bring(seconds(2_000, 2_003));
    run(u -> u.writeSoak(soak("a", 0, 7 * S, Soak.End.SILENCE)));
    assertThatObject(read(u -> u.nextImported(imported(), "")))
        .isEqualTo(Optional.of(stretch(0, 7)));
    run(u -> u.takeOut(imported(), stretch(0, 7)));
    // No soak holds the others yet.
    ImportedStretch next = read(u -> u.nextImported(imported(), "")).orElseThrow();
    assertThat(next.fromUs()).isEqualTo(START_US + 2_000 * S);
    run(u -> u.takeOut(imported(), stretch(2_000, 2_002)));
    assertThatObject(read(u -> u.nextImported(imported(), ""))).isEqualTo(Optional.empty());
    assertThatList(stored()).isEmpty();
  }

  @Test
  default void whatWasSetAsideIsTakenOutToo() {
    bring(seconds(0, 4));
    run(u -> u.setAside(tracker(), START_US, START_US + 2 * S, Set.of()));
    assertThatObject(read(u -> u.takeOut(imported(), stretch(0, 4)))).isEqualTo(4L);
    assertThat(write(seconds(0, 4)).fresh()).hasSize(4);
  }

  @Test
  default void aUnitThatIsNotCommittedTakesNothingOut() {
    bring(seconds(0, 4));
    try (Unit unit = store().begin()) {
      unit.takeOut(imported(), stretch(0, 4));
    }
    assertThatList(stored()).hasSize(4);
    assertThatObject(read(u -> u.countImported(imported(), stretch(0, 4)))).isEqualTo(4L);
  }

  @Test
  default void theLastSampleBeforeATimeIsFound() {
    write(seconds(0, 3));
    assertThatObject(read(u -> u.lastSampleUs(tracker(), START_US + 2 * S)))
        .isEqualTo(OptionalLong.of(START_US + S));
    assertThatObject(read(u -> u.lastSampleUs(tracker(), START_US)))
        .isEqualTo(OptionalLong.empty());
    assertThatObject(read(u -> u.lastSampleUs(tracker(), Long.MAX_VALUE)))
        .isEqualTo(OptionalLong.of(START_US + 2 * S));
  }

  @Test
  default void samplesAreGivenToAnotherTrackerAndWhereItHasSomeTheyAreSetAside() {
    bring(seconds(0, 6));
    Sample its = sample(2 * S).withTemperatureC(40).of(other());
    write(List.of(its));
    Moved moved = read(u -> u.moveSamples(tracker(), other(), START_US, START_US + 5 * S));
    assertThat(moved).isEqualTo(new Moved(4, 1));
    assertThatList(stored()).containsExactly(sample(5 * S));
    List<Sample> there = read(u -> u.samples(other(), 0, Long.MAX_VALUE));
    assertThatList(there).hasSize(5).contains(its);
    // An undone import takes out what it brought, wherever that is now, and nothing else.
    Optional<ImportedStretch> next = read(u -> u.nextImported(imported(), ""));
    while (next.isPresent()) {
      ImportedStretch now = next.get();
      run(u -> u.takeOut(imported(), now));
      next = read(u -> u.nextImported(imported(), ""));
    }
    assertThatList(read(u -> u.samples(other(), 0, Long.MAX_VALUE))).containsExactly(its);
  }

  @Test
  default void aSoakIsGivenToAnotherTrackerWithAllThatIsItsOwn() {
    Soak soak = soak("a", 0, 3 * S, Soak.End.TAKEN_OFF);
    Soak its =
        new Soak(
            other() + "@a",
            other(),
            soak.startUs(),
            soak.endUs(),
            soak.samples(),
            soak.ended(),
            soak.samplesKept());
    Bin bin = bin(soak.startSecond(), 1);
    run(
        u -> {
          u.writeSoak(soak);
          u.writeBins(List.of(bin));
          u.writeTerms(soak.id(), SoakTerms.of(Limits.DEFAULT));
          u.appendTimeline(soak.id(), List.of(change(0, State.STARTING)));
        });
    run(u -> u.moveSoak(soak, its));
    assertThatList(read(u -> u.soaks(tracker(), 0))).isEmpty();
    assertThatList(read(u -> u.soaks(other(), 0))).containsExactly(its);
    assertThatList(read(u -> u.bins(tracker(), 0, Long.MAX_VALUE))).isEmpty();
    Bin moved = read(u -> u.bins(its)).get(0);
    assertThat(moved.tracker()).isEqualTo(other());
    assertThat(moved.temperatureC()).isEqualTo(bin.temperatureC());
    assertThat(moved.gyroDps()).isEqualTo(bin.gyroDps());
    assertThatObject(read(u -> u.terms(its.id())))
        .isEqualTo(Optional.of(SoakTerms.of(Limits.DEFAULT)));
    assertThatObject(read(u -> u.terms(soak.id()))).isEqualTo(Optional.empty());
    assertThatList(read(u -> u.timeline(its.id()))).containsExactly(change(0, State.STARTING));
  }
}
