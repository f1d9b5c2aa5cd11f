package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalLong;
import org.junit.jupiter.api.Test;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.Soak.End;
import soakbench.model.State;
import soakbench.model.StateChange;

/** Silence noticed by a live clock, and by the gap itself. */
class SilenceTest {
  private final MemoryStore store = new MemoryStore();
  private final ManualClock clock = new ManualClock(Samples.START_US);
  private final SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, clock);

  /** Samples arrive when they are due, and the service looks at the clock once a second. */
  private void live(List<Sample> samples) {
    for (Sample s : samples) {
      while (clock.nowUs() + 1_000_000 < s.timeUs()) {
        clock.pass(1);
        watch.tick();
      }
      clock.setUs(s.timeUs());
      watch.accept(List.of(s));
    }
  }

  private void tickFor(double seconds) {
    for (int i = 0; i < seconds; i++) {
      clock.pass(1);
      watch.tick();
    }
  }

  private StoreContents kept() {
    return StoreContents.of(store, Samples.TRACKER);
  }

  private List<State> states(int soak) {
    return kept().timeline(soak).stream().map(StateChange::state).toList();
  }

  @Test
  void theClockAndTheGapSayTheSame() {
    List<Sample> all =
        new Samples.Maker()
            .lines(70)
            .quiet(30)
            .lines(20)
            .quiet(9.5)
            .lines(20)
            .quiet(10.5)
            .lines(30)
            .samples();
    live(all);
    watch.finish();
    assertThat(states(0)).containsSequence(State.SILENT);
    kept().isSameAs(StoreContents.replayed(all));
  }

  @Test
  void aGapThatEndsTheSoakSaysTheSameToo() {
    List<Sample> all = new Samples.Maker().lines(70).quiet(700).lines(70).samples();
    live(all);
    watch.finish();
    assertThat(kept().soaks()).hasSize(2);
    assertThat(states(0)).endsWith(State.SILENT);
    kept().isSameAs(StoreContents.replayed(all));
  }

  @Test
  void aLateRebootThatEndsTheSoakSaysTheSameToo() {
    List<Sample> all = new Samples.Maker().lines(70).quiet(200).reboot().lines(70).samples();
    live(all);
    watch.finish();
    assertThat(kept().soaks().get(0).ended()).isEqualTo(End.LATE_REBOOT);
    kept().isSameAs(StoreContents.replayed(all));
  }

  @Test
  void silenceBeginsTenSecondsAfterTheLastSample() {
    List<Sample> all = new Samples.Maker().lines(70).samples();
    live(all);
    tickFor(9);
    assertThat(states(0)).doesNotContain(State.SILENT);
    tickFor(3);
    StateChange last = kept().timeline(0).get(kept().timeline(0).size() - 1);
    assertThat(last.state()).isEqualTo(State.SILENT);
    assertThat(last.timeUs()).isEqualTo(all.get(all.size() - 1).timeUs() + 10_000_000);
    assertThat(watch.readiness(Samples.TRACKER).orElseThrow().state()).isEqualTo(State.SILENT);
  }

  @Test
  void afterTenMinutesOfItTheSoakIsOver() {
    live(new Samples.Maker().lines(70).samples());
    tickFor(599);
    assertThat(kept().soaks().get(0).open()).isTrue();
    tickFor(3);
    assertThat(kept().soaks().get(0).ended()).isEqualTo(End.SILENCE);
    assertThat(watch.readiness(Samples.TRACKER)).isEmpty();
  }

  @Test
  void aRestartKeepsTheSilenceThatWasSaid() {
    List<Sample> all = new Samples.Maker().lines(70).quiet(60).lines(30).samples();
    live(all.subList(0, 700));
    tickFor(30);
    SoakWatch again = new SoakWatch(store, Limits.DEFAULT, clock);
    again.restore();
    assertThat(again.readiness(Samples.TRACKER).orElseThrow().state()).isEqualTo(State.SILENT);
    again.accept(all.subList(700, all.size()));
    again.finish();
    kept().isSameAs(StoreContents.replayed(all));
  }

  @Test
  void samplesThatWereOnlyHeldUpTakeTheSilenceBack() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 700));
    tickFor(60);
    assertThat(states(0)).endsWith(State.SILENT);
    watch.accept(all.subList(700, 1300));
    tickFor(1);
    assertThat(states(0)).doesNotContain(State.SILENT);
    assertThat(kept().timeline(0)).extracting(StateChange::revised).contains(true);
    watch.accept(all.subList(1300, all.size()));
    watch.finish();
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void samplesHeldUpForLongerThanTenMinutesReopenTheSoak() {
    List<Sample> all = new Samples.Maker().lines(900).samples();
    live(all.subList(0, 700));
    tickFor(700);
    assertThat(kept().soaks().get(0).ended()).isEqualTo(End.SILENCE);
    watch.accept(all.subList(700, all.size()));
    watch.finish();
    assertThat(kept().soaks()).hasSize(1);
    kept().isSameButForMarksAs(StoreContents.replayed(all));
  }

  @Test
  void oldSamplesOfASilentTrackerDoNotBreakItsSilence() {
    List<Sample> all = new Samples.Maker().lines(200).samples();
    live(all.subList(0, 500));
    live(all.subList(600, 1000));
    tickFor(60);
    watch.accept(all.subList(500, 600));
    tickFor(1);
    assertThat(watch.readiness(Samples.TRACKER).orElseThrow().state()).isEqualTo(State.SILENT);
    assertThat(states(0)).endsWith(State.SILENT);
    assertThat(kept().soaks().get(0).samples()).isEqualTo(1000);
  }

  @Test
  void aRecordingOfThePastEndsByItsOwnTimeAndNobodyCallsItSilent() {
    watch.useLiveness(t -> OptionalLong.empty());
    List<State> said = new ArrayList<>();
    watch.subscribe(verdicts -> verdicts.forEach(v -> said.add(v.state())));
    List<Sample> all = new Samples.Maker().lines(70).quiet(30).lines(40).samples();
    clock.pass(86_400);
    watch.accept(all.subList(0, 700));
    watch.accept(all.subList(700, 900));
    tickFor(9);
    assertThat(kept().soaks().get(0).open()).isTrue();
    tickFor(4);
    assertThat(kept().soaks()).extracting(Soak::ended).containsExactly(End.SILENCE);
    assertThat(said).isNotEmpty().doesNotContain(State.SILENT);
    assertThat(kept().timelines())
        .isEqualTo(StoreContents.replayed(all.subList(0, 900)).timelines());
    watch.accept(all.subList(900, all.size()));
    tickFor(1);
    tickFor(12);
    assertThat(kept().soaks()).extracting(Soak::ended).containsExactly(End.SILENCE);
    assertThat(kept().soaks().get(0).samples()).isEqualTo(all.size());
    assertThat(kept().unmarked()).isEqualTo(StoreContents.replayed(all).timelines());
  }
}
