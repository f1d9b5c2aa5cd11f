package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Optional;
import org.junit.jupiter.api.Test;
import soakbench.live.SoakStore.Unit;
import soakbench.model.Bin;
import soakbench.model.Soak;
import soakbench.model.State;

/** What every store must do with kept judges. */
interface KeptJudgesContract extends StoreInTest {
  long FIRST_S = START_US / 1_000_000;

  /** An open soak of five seconds whose judge is kept at the fourth. */
  private Soak kept() {
    Soak soak = soak("a", 0, 4_500_000, null);
    List<Bin> bins = List.of(0, 1, 2, 3, 4).stream().map(i -> bin(FIRST_S + i, i)).toList();
    long readings = bins.subList(0, 4).stream().mapToLong(Bin::readings).sum();
    run(u -> u.writeSoak(soak));
    run(u -> u.writeBins(bins));
    run(
        u ->
            u.keepJudge(
                new KeptJudge(soak.id(), "p", FIRST_S + 3, 4, readings, new byte[] {7, -7})));
    return soak;
  }

  private Optional<KeptJudge> found(Soak soak) {
    return found(soak, "p");
  }

  private Optional<KeptJudge> found(Soak soak, String program) {
    return read(u -> u.keptJudge(soak, program));
  }

  @Test
  default void aJudgeComesBackToTheProgramThatKeptItAndANewerOneReplacesIt() {
    Soak soak = kept();
    KeptJudge judge = found(soak).orElseThrow();
    assertThat(judge.second()).isEqualTo(FIRST_S + 3);
    assertThat(judge.content()).containsExactly(7, -7);
    assertThat(found(soak, "q")).isEmpty();
    run(
        u ->
            u.keepJudge(
                new KeptJudge(soak.id(), "p", FIRST_S, 1, bin(0, 0).readings(), new byte[9])));
    assertThat(found(soak).orElseThrow().content()).hasSize(9);
  }

  @Test
  default void aJudgeOfNoStoredSoakIsNotKept() {
    Soak soak = soak("a", 0, 1, null);
    run(u -> u.keepJudge(new KeptJudge(soak.id(), "p", FIRST_S, 0, 0, new byte[1])));
    run(u -> u.writeSoak(soak));
    assertThat(found(soak)).isEmpty();
  }

  @Test
  default void aJudgeIsOfNoUseOnceItsBinsAreOthers() {
    Soak soak = kept();
    Bin more = bin(FIRST_S + 1, 1);
    Bin.Channel again = new Bin.Channel(51, 7, 0.01);
    Bin late =
        new Bin(
            more.tracker(),
            more.second(),
            more.firstUs(),
            more.lastUs(),
            more.boot(),
            again,
            more.gyroDps(),
            more.accelG(),
            more.temperatureStepC(),
            more.gyroStepDps());
    run(u -> u.writeBins(List.of(bin(FIRST_S + 4, 9), bin(FIRST_S + 5, 9))));
    assertThat(found(soak)).as("only later ones").isPresent();
    run(u -> u.writeBins(List.of(late)));
    assertThat(found(soak)).isEmpty();
  }

  @Test
  default void aJudgeGoesWithWhatItRestsOn() {
    Soak soak = kept();
    run(u -> u.appendTimeline(soak.id(), List.of(change(0, State.STARTING))));
    run(u -> u.writeSoak(soak));
    assertThat(found(soak)).as("as it goes on").isPresent();
    try (Unit unit = store().begin()) {
      unit.replaceTimeline(soak.id(), List.of());
      assertThat(unit.keptJudge(soak, "p")).isEmpty();
    }
    assertThat(found(soak)).as("not committed").isPresent();
    run(u -> u.replaceTimeline(soak.id(), List.of()));
    assertThat(found(soak)).as("judged again").isEmpty();
    Soak second = kept();
    run(u -> u.deleteBins(tracker(), FIRST_S + 4, FIRST_S + 5));
    assertThat(found(second)).as("bins removed").isEmpty();
    Soak third = kept();
    run(u -> u.deleteSoak(third.id()));
    assertThat(found(third)).as("removed").isEmpty();
    Soak fourth = kept();
    run(u -> u.writeSoak(fourth.endedBy(Soak.End.SILENCE)));
    assertThat(found(fourth)).as("ended").isEmpty();
  }
}
