package soakbench.drift.curve;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.drift.Bins;
import soakbench.drift.MadeSoak;
import soakbench.drift.correction.InsideCorrection.Finding;
import soakbench.model.Bin;
import soakbench.model.Estimate;

/** What a whole soak's seconds come to, and why there is nothing where there is nothing. */
class StillSoakTest {

  private static StillSoak shaken(int seconds, int everyS) {
    Bins bins = new Bins(4).at(28);
    List<Bin> all = new ArrayList<>();
    for (int s = 0; s < seconds; s++) {
      all.add(bins.second(s, 10, everyS > 0 && s % everyS < 2 && s > 30 ? 30 : 0));
    }
    return StillSoak.of(all);
  }

  @Test
  void anUntouchedSoakIsOnePiece() {
    StillSoak soak = StillSoak.of(new MadeSoak(1200, t -> 25 + 0.002 * t).bins());
    assertThat(soak.pieces()).hasSize(1);
    assertThat(soak.sampleRateHz()).isEqualTo(10);
    assertThat(soak.blocks()).hasSize(39);
    assertThat(soak.whiteDps()[0])
        .as("0.01 deg/sqrt(s) of white noise")
        .isCloseTo(0.01, within(0.001));
    assertThat(soak.correction()).isIn(Finding.UNKNOWN, Finding.AS_MEASURED);
    assertThat(soak.sinceBootS(100)).isEqualTo(100);
  }

  @Test
  void motionPartsThePieces() {
    StillSoak soak = shaken(600, 200);
    assertThat(soak.pieces()).hasSizeBetween(3, 4);
    assertThat(soak.pieces()).allSatisfy(p -> assertThat(p).hasSizeGreaterThan(100));
    assertThat(soak.blocks().stream().mapToInt(b -> b.segment()).distinct().count())
        .as("each has offsets of its own")
        .isEqualTo(3);
  }

  @Test
  void timeIsCountedFromTheLastPowerOnThatTheSoakShows() {
    List<Bin> bins = new MadeSoak(600, t -> 25).boots(s -> s < 200 ? 0 : s < 450 ? 1 : 2).bins();
    StillSoak soak = StillSoak.of(bins);
    assertThat(soak.bootsS()).containsExactly(0, 200, 450);
    assertThat(soak.sinceBootS(199)).isEqualTo(199);
    assertThat(soak.sinceBootS(200)).isZero();
    assertThat(soak.sinceBootS(500)).isEqualTo(50);
  }

  @Test
  void whyThereAreNoBlocksIsSaid() {
    List<Bin> moving = new ArrayList<>();
    List<Bin> silent = new ArrayList<>();
    List<Bin> slow = new ArrayList<>();
    for (int s = 0; s < 120; s++) {
      moving.add(new Bins(s).second(s, 10, 40));
      silent.add(new Bins(s).second(s, 0, 0));
      slow.add(new Bins(s).second(5 * s, 1, 0));
    }
    assertThat(StillSoak.of(moving).whyNoBlocks())
        .isEqualTo("never still for 30 s: it moved all the time");
    assertThat(StillSoak.of(silent).whyNoBlocks()).isEqualTo("it sent no rates");
    assertThat(StillSoak.of(slow).whyNoBlocks())
        .isEqualTo(
            "readings come too slowly to see motion; at least one every two seconds is needed");
    assertThat(StillSoak.of(List.of()).whyNoBlocks())
        .isEqualTo("never still for 30 s with a temperature");
    assertThat(StillSoak.of(List.of()).sampleRateHz()).isNaN();
  }

  @Test
  void gravityOfTheNewestMinuteIsTheFace() {
    Bins bins = new Bins(9).accelerometer();
    List<Bin> all = new ArrayList<>();
    for (int s = 0; s < 200; s++) {
      double up = s < 130 ? 1 : -1;
      all.add(bins.up(0, 0, up).second(s, 10, s == 130 ? 40 : 0));
    }
    assertThat(RestingFace.gravityG(StillSoak.of(all)))
        .containsExactly(new double[] {0, 0, -1}, within(0.01));
    assertThat(RestingFace.gravityG(shaken(100, 0))).isNull();
    assertThat(RestingFace.gravityG(StillSoak.of(List.of()))).isNull();
  }

  /** Settles by 0.05 deg/s with 300 s after power-on, the same in both soaks, or only in one. */
  private static StillSoak settling(double byDps, long seed) {
    MadeSoak made =
        new MadeSoak(2400, t -> 25 + 3 * Math.sin(t / 500))
            .bias((axis, t, c, rate) -> 0.01 * (c - 25) + byDps * Math.exp(-t / 300))
            .noise(0.003, 0)
            .seed(seed);
    return StillSoak.of(made.bins());
  }

  private static Estimate settlingOf(StillSoak soak, StillSoak again) {
    List<CurveBlock> blocks = CurveBlock.of(soak);
    return Settling.of(soak, CurveDesign.of(blocks, 2, BiasCurveFitter.PRIOR_LAG_SD), again).get(0);
  }

  @Test
  void whatTwoSoaksShowAlikeIsSettling() {
    Estimate both = settlingOf(settling(0.05, 1), settling(0.05, 2));
    assertThat(both.low()).isLessThan(0.05);
    assertThat(both.high()).isGreaterThan(0.05);
    assertThat(both.se()).isLessThan(0.01);
  }

  @Test
  void whatOneSoakShowsAloneIsNot() {
    assertThat(settlingOf(settling(0.05, 3), settling(0, 4)).reason())
        .startsWith("not shown by both soaks alike (0.0");
    assertThat(settlingOf(settling(0.05, 3), null).reason()).startsWith("one soak can't tell it");
    assertThat(settlingOf(settling(0.05, 3), StillSoak.of(List.of())).reason())
        .isEqualTo("the other soak has no still half-minutes to show it again");
  }
}
