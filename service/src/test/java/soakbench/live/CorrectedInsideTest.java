package soakbench.live;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.simulation.SimulateRun;
import soakbench.demo.simulation.Truth;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Correction.Kind;
import soakbench.ingest.source.Recording;
import soakbench.live.figures.SoakAnalysis;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Bin;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.State;
import soakbench.model.StateChange;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Condition;
import soakbench.readiness.Readiness;

/** What is said of trackers whose firmware takes something off the rates that they print. */
class CorrectedInsideTest {
  /** Settles in the band within half an hour when its rates are as measured. */
  private static final long SEED = 4;

  private static final String FOLLOWED =
      "corrected inside: its rates are drawn back to zero while it lies still, so drift can't be"
          + " judged";

  @TempDir static Path folder;
  private static List<Sample> raw;
  private static List<Sample> corrected;

  @BeforeAll
  static void simulate() throws IOException {
    raw = samples(Correction.NONE);
    corrected = samples(Correction.follows(20));
  }

  private static List<Sample> samples(Correction correction) throws IOException {
    Path file = folder.resolve(correction.kind() + ".jsonl");
    SimulateOptions options =
        SimulateOptions.usual(SEED).withMix(Mix.CLEAN).withCorrection(correction);
    try (OutputStream out = Files.newOutputStream(file)) {
      SimulateRun.write(options, out, null);
    }
    List<Sample> samples = new ArrayList<>();
    Recording.read(file, samples::addAll);
    return samples;
  }

  /** What is told at last, and on the way. */
  private record Told(Readiness last, List<StateChange> timeline, SoakAnalysis figures) {
    boolean everReady() {
      return timeline.stream().anyMatch(c -> c.state() == State.READY);
    }

    Condition condition(String name) {
      return last.conditions().stream().filter(c -> c.name().equals(name)).findFirst().get();
    }
  }

  private static Told told(List<Sample> samples, Rates rates) {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    watch.useRates(tracker -> rates);
    watch.accept(samples);
    watch.finish();
    String tracker = samples.get(0).tracker();
    StoreContents kept = StoreContents.of(store, tracker);
    List<Bin> bins = kept.bins();
    return new Told(
        watch.readiness(tracker).orElseThrow(),
        kept.timeline(0),
        SoakAnalysis.of(bins, Limits.DEFAULT, rates));
  }

  @Test
  void asMeasuredItGetsReady() {
    Told told = told(raw, Rates.UNKNOWN);
    assertThat(told.everReady()).isTrue();
    assertThat(told.figures().biasCurve().reason()).isNull();
    assertThat(told.figures().noise().reason()).isNull();
  }

  @Test
  void ratesThatAreDrawnBackAreUndecidedAndNeverReady() {
    Told told = told(corrected, Rates.UNKNOWN);
    assertThat(told.everReady()).isFalse();
    assertThat(told.last().state()).isEqualTo(State.UNDECIDED);
    assertThat(told.last().advice())
        .isEqualTo("can't say: " + FOLLOWED + "; let it print its raw rates if it can");
    assertThat(told.last().readyAt()).isNull();
    assertThat(told.last().readyTime().reason()).isEqualTo("not known: " + FOLLOWED);
    assertThat(told.last().figures().shiftDps())
        .allSatisfy(s -> assertThat(s.reason()).isEqualTo(FOLLOWED));
    assertThat(told.condition("shift").met()).isNull();
    assertThat(told.condition("shift").reason()).isEqualTo(FOLLOWED);
    assertThat(told.condition("near_use").reason()).isEqualTo(FOLLOWED);
  }

  @Test
  void theirFiguresSayTheReasonInsteadOfANumber() {
    SoakAnalysis figures = told(corrected, Rates.UNKNOWN).figures();
    assertThat(figures.biasCurve().reason()).isEqualTo(FOLLOWED);
    assertThat(figures.biasCurve().axes()).isEmpty();
    assertThat(figures.noise().reason()).isEqualTo(FOLLOWED);
    assertThat(figures.noise().axes()).isEmpty();
    assertThat(figures.heading().degPerMin().reason()).isEqualTo(FOLLOWED);
    assertThat(figures.warmUp().reason()).as("the temperature is its own").isNull();
  }

  @Test
  void whatTheUserSaysOfThemIsBelieved() {
    Told told = told(raw, Rates.FOLLOWS);
    String reason =
        "corrected inside, as the roster says (though its rates don't show it): drift can't be"
            + " judged";
    assertThat(told.everReady()).isFalse();
    assertThat(told.last().state()).isEqualTo(State.UNDECIDED);
    assertThat(told.last().advice()).startsWith("can't say: " + reason);
    assertThat(told.figures().noise().reason()).isEqualTo(reason);
  }

  @Test
  void aUserWhoSaysRawIsToldOtherwise() {
    Told told = told(corrected, Rates.RAW);
    assertThat(told.last().state()).isEqualTo(State.UNDECIDED);
    assertThat(told.last().advice()).contains("corrected inside (though the roster says raw)");
  }

  @Test
  void aTrackerThatWasReadyIsNoLongerOnceItIsSaidToCorrect() {
    MemoryStore store = new MemoryStore();
    SoakWatch watch = new SoakWatch(store, Limits.DEFAULT, () -> 0);
    watch.accept(raw.subList(0, raw.size() - 600));
    assertThat(watch.readiness().get(0).state()).isEqualTo(State.READY);
    watch.useRates(tracker -> Rates.FOLLOWS);
    watch.accept(raw.subList(raw.size() - 600, raw.size()));
    assertThat(watch.readiness().get(0).state()).isEqualTo(State.UNDECIDED);
  }

  /** Not all of them are seen; those that are not must do without what their rates show. */
  @Test
  void slowlyDrawnBackRatesAreNotToldReadyWhileTheBiasStillMoves() throws IOException {
    areNotToldReady(540, 542);
  }

  @Test
  @Tag("bench")
  void norAreThoseOfOthers() throws IOException {
    areNotToldReady(542, 546);
  }

  private static void areNotToldReady(long from, long to) throws IOException {
    for (long seed = from; seed < to; seed++) {
      SimulateOptions options =
          SimulateOptions.usual(seed).withMix(Mix.CLEAN).withCorrection(Correction.follows(200));
      Path file = folder.resolve("slow.jsonl");
      Recipe recipe;
      try (OutputStream out = Files.newOutputStream(file)) {
        recipe = SimulateRun.write(options, out, null);
      }
      List<Sample> samples = new ArrayList<>();
      Recording.read(file, samples::addAll);
      List<int[]> harmful = Truth.of(recipe).harmfulS();
      for (StateChange change : told(samples, Rates.UNKNOWN).timeline()) {
        double atS = (change.timeUs() - recipe.startUs()) / 1e6;
        assertThat(change.state() == State.READY && within(harmful, atS))
            .as("seed %s ready at %s s", seed, atS)
            .isFalse();
      }
    }
  }

  private static boolean within(List<int[]> spans, double atS) {
    return spans.stream().anyMatch(s -> atS >= s[0] && atS <= s[1] + 1);
  }

  @Test
  void aConstantCorrectionIsJudgedLikeAnyOther() throws IOException {
    assertThat(told(samples(Correction.of(Kind.AT_BOOT)), Rates.UNKNOWN).everReady()).isTrue();
  }
}
