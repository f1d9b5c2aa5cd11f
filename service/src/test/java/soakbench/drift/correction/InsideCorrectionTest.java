package soakbench.drift.correction;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.net.URISyntaxException;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Correction.Kind;
import soakbench.drift.Bins;
import soakbench.drift.SimulatedBins;
import soakbench.drift.correction.InsideCorrection.Finding;
import soakbench.drift.still.BiasBlocks;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Tracker.Rates;

/** Simulated trackers whose truth names what their firmware takes off. */
class InsideCorrectionTest {
  private static final Set<Finding> SEEN = EnumSet.of(Finding.HIGH_PASSED, Finding.AUTO_ZEROED);

  /** What is found at the end of each second. */
  private static List<Finding> findings(List<Bin> bins) {
    Stillness stillness = new Stillness();
    BiasBlocks blocks = new BiasBlocks();
    InsideCorrection inside = new InsideCorrection();
    List<Finding> out = new ArrayList<>();
    for (Bin bin : bins) {
      double tS = bin.second() - bins.get(0).second() + 0.5;
      Stillness.Answer answer = stillness.accept(bin);
      blocks.accept(bin, tS, answer);
      inside.accept(bin, tS, answer, blocks);
      out.add(inside.finding());
    }
    return out;
  }

  private static List<Finding> findings(Mix mix, long seed, Correction correction) {
    SimulateOptions options = SimulateOptions.usual(seed).withMix(mix).withCorrection(correction);
    return findings(SimulatedBins.of(options));
  }

  @ParameterizedTest
  @EnumSource
  void ratesAsMeasuredAreNotTakenForCorrected(Mix mix) {
    areAsMeasured(mix, 501, 502);
  }

  @ParameterizedTest
  @EnumSource
  @Tag("bench")
  void ratesAsMeasuredAreNeverTakenForCorrected(Mix mix) {
    areAsMeasured(mix, 502, 505);
  }

  private static void areAsMeasured(Mix mix, long from, long to) {
    for (long seed = from; seed < to; seed++) {
      List<Finding> all = findings(mix, seed, Correction.NONE);
      assertThat(all).as("seed %s", seed).doesNotContainAnyElementsOf(SEEN);
      assertThat(all.get(1500)).as("seed %s", seed).isEqualTo(Finding.AS_MEASURED);
    }
  }

  @ParameterizedTest
  @CsvSource({
    "CLEAN, CONSTANT", "USUAL, CONSTANT", "NASTY, CONSTANT",
    "CLEAN, AT_BOOT", "USUAL, AT_BOOT", "NASTY, AT_BOOT"
  })
  void aConstantCorrectionIsHarmless(Mix mix, Kind kind) {
    isHarmless(mix, kind, 511, 512);
  }

  @ParameterizedTest
  @CsvSource({
    "CLEAN, CONSTANT", "USUAL, CONSTANT", "NASTY, CONSTANT",
    "CLEAN, AT_BOOT", "USUAL, AT_BOOT", "NASTY, AT_BOOT"
  })
  @Tag("bench")
  void aConstantCorrectionIsHarmlessToOthersToo(Mix mix, Kind kind) {
    isHarmless(mix, kind, 512, 514);
  }

  private static void isHarmless(Mix mix, Kind kind, long from, long to) {
    for (long seed = from; seed < to; seed++) {
      assertThat(findings(mix, seed, Correction.of(kind)))
          .as("seed %s", seed)
          .doesNotContainAnyElementsOf(SEEN);
    }
  }

  @ParameterizedTest
  @ValueSource(strings = {"T-77000C", "T-77002C", "T-77001N", "T-79000U"})
  void noRecordingIsTakenForCorrected(String name) throws IOException, URISyntaxException {
    String ending = name.equals("T-79000U") ? ".csv.gz" : ".jsonl.gz";
    Path file = Path.of(getClass().getResource("/recordings/" + name + ending).toURI());
    assertThat(findings(SimulatedBins.of(file))).doesNotContainAnyElementsOf(SEEN);
  }

  @ParameterizedTest
  @CsvSource({"FOLLOWS, 20, 1", "FOLLOWS, 60, 1", "FOLLOWS_FROM_NOTHING, 200, 1"})
  void aLowPassThatIsTakenOffIsSeenWithinHalfAnHour(Kind kind, double lowPassS, int least) {
    isSeen(kind, lowPassS, 2, least);
  }

  @ParameterizedTest
  @CsvSource({"FOLLOWS, 20, 5", "FOLLOWS, 60, 4", "FOLLOWS_FROM_NOTHING, 200, 5"})
  @Tag("bench")
  void ofHalfADozenMostAreSeen(Kind kind, double lowPassS, int least) {
    isSeen(kind, lowPassS, 6, least);
  }

  private static void isSeen(Kind kind, double lowPassS, int count, int least) {
    int seen = 0;
    for (long seed = 521; seed < 521 + count; seed++) {
      List<Finding> all = findings(Mix.CLEAN, seed, new Correction(kind, lowPassS));
      seen += SEEN.contains(all.get(1750)) ? 1 : 0;
      assertThat(all.subList(900, all.size())).doesNotContain(Finding.AS_MEASURED);
    }
    assertThat(seen).isGreaterThanOrEqualTo(least);
  }

  /** Five minutes of drift by 0.1 deg/s, moved, and again; what a motion leaves is told. */
  private static List<Bin> moved(Bins bins, int times, double[] levelsAfter, boolean rebooting) {
    List<Bin> out = new ArrayList<>();
    double level = 0.2;
    int s = 0;
    for (int i = 0; i < times; i++) {
      for (int k = 0; k < 300; k++, s++) {
        bins.bias(level + 0.1 * k / 300, -level / 2, level / 3);
        out.add(bins.second(s, 10, 0));
      }
      for (int k = 0; k < 5; k++, s++) {
        out.add(bins.second(s, 10, 30));
      }
      level = levelsAfter[i];
      if (rebooting) {
        bins.booted(i + 1);
      }
    }
    return out;
  }

  @Test
  void ratesThatReturnToZeroAfterEachMotionAreSeenTheSecondTime() {
    List<Finding> all = findings(moved(new Bins(31), 4, new double[] {0, 0, 0, 0}, false));
    assertThat(all.subList(0, 610)).doesNotContainAnyElementsOf(SEEN);
    assertThat(all.get(all.size() - 1)).isEqualTo(Finding.AUTO_ZEROED);
  }

  @Test
  void oneReturnIsSomebodysCalibration() {
    assertThat(findings(moved(new Bins(32), 3, new double[] {0, 0.11, 0.12}, false)))
        .doesNotContainAnyElementsOf(SEEN);
  }

  @Test
  void aReturnAtPowerOnIsAConstantCorrection() {
    assertThat(findings(moved(new Bins(33), 4, new double[] {0, 0, 0, 0}, true)))
        .doesNotContainAnyElementsOf(SEEN);
  }

  @Test
  void posesOfRatesNearZeroAreNoReturns() {
    Bins bins = new Bins(34).noise(0.01);
    List<Bin> all = new ArrayList<>();
    double[] levels = {0.03, 0.005, -0.02, 0.002, 0.025, -0.001};
    for (int s = 0; s < levels.length * 200; s++) {
      double level = levels[s / 200];
      bins.bias(level, level / 2, -level);
      all.add(bins.second(s, 10, s % 200 < 5 ? 20 : 0));
    }
    assertThat(findings(all)).doesNotContainAnyElementsOf(SEEN);
  }

  @Test
  void coarseReadingsThatNeverMoveShowNothing() {
    Bins bins = new Bins(35).noise(0.002).step(0.0153);
    List<Bin> all = new ArrayList<>();
    for (int s = 0; s < 1800; s++) {
      bins.bias(0.0153, -0.0153, s % 700 < 2 ? 0.0153 : 0);
      all.add(bins.second(s, 10, 0));
    }
    assertThat(findings(all)).containsOnly(Finding.UNKNOWN);
  }

  @Test
  void whatTheUserSaysIsBelievedUnlessTheRatesShowOtherwise() {
    assertThat(Finding.AS_MEASURED.reason(Rates.UNKNOWN)).isNull();
    for (Rates harmless : List.of(Rates.RAW, Rates.CONSTANT)) {
      assertThat(Finding.UNKNOWN.reason(harmless)).isNull();
      assertThat(Finding.AS_MEASURED.reason(harmless)).isNull();
      assertThat(Finding.HIGH_PASSED.reason(harmless))
          .isEqualTo(
              "corrected inside (though the roster says "
                  + harmless.word()
                  + "): its rates are drawn back to zero while it lies still, so drift can't be"
                  + " judged");
    }
    assertThat(Finding.UNKNOWN.reason(Rates.FOLLOWS))
        .isEqualTo("corrected inside, as the roster says: drift can't be judged");
    assertThat(Finding.AS_MEASURED.reason(Rates.FOLLOWS))
        .isEqualTo(
            "corrected inside, as the roster says (though its rates don't show it): drift can't be"
                + " judged");
    assertThat(Finding.HIGH_PASSED.reason(Rates.UNKNOWN)).doesNotContain("roster");
    assertThat(Finding.HIGH_PASSED.reason(Rates.FOLLOWS)).doesNotContain("though");
    assertThat(Finding.AUTO_ZEROED.reason(Rates.FOLLOWS)).contains("after each motion");
  }

  @Test
  void whatIsSeenGoesBeforeWhatIsDeclared() {
    assertThat(Finding.AUTO_ZEROED.rates(Rates.CONSTANT)).isEqualTo(Rates.FOLLOWS);
    assertThat(Finding.HIGH_PASSED.rates(Rates.UNKNOWN)).isEqualTo(Rates.FOLLOWS);
    assertThat(Finding.AS_MEASURED.rates(Rates.CONSTANT)).isEqualTo(Rates.CONSTANT);
    assertThat(Finding.AS_MEASURED.rates(Rates.FOLLOWS)).isEqualTo(Rates.FOLLOWS);
    assertThat(Finding.UNKNOWN.rates(Rates.UNKNOWN)).isEqualTo(Rates.UNKNOWN);
  }
}
