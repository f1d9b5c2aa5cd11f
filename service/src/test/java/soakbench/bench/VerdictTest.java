package soakbench.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;
import soakbench.demo.simulation.Mix;
import soakbench.model.Limits;

/**
 * What the verdict is worth, by an hour each of three hundred simulated trackers a mix; otherwise
 * of the first few of them. The limits stand a little above what was measured, so that a change
 * that makes the verdict worse fails here; {@code bench verdict} prints the same table for other
 * seeds.
 */
class VerdictTest {
  private static final int MANY = 300;

  /** The first of the many; the 90th percentile of their delay is a single tracker's. */
  private static final int SOME = 30;

  private static final Map<Mix, Bounds> BOUNDS_OF_SOME =
      Map.of(
          Mix.CLEAN, new Bounds(10, 20, 4.2, 50, 8, 7),
          Mix.USUAL, new Bounds(15, 80, 8.2, 75, 20, 10),
          Mix.NASTY, new Bounds(50, 420, 10, 95, 45, 45));

  private static final int FEW = 4;

  /** None of the few, or but one, has a time so early. */
  private static final double UNASKED = Double.NaN;

  private static final long SEED = 424;

  /** What the table may say at most; forecast errors at 25, 50 and 75 % of the way. */
  private record Bounds(
      double medianDelayS, double slowDelayS, double changesPerHour, double... forecastErrorS) {}

  /** Each a little above what was measured, as below. */
  private static final Map<Mix, Bounds> BOUNDS_OF_FEW =
      Map.of(
          Mix.CLEAN, new Bounds(10, 20, 5, 120, 8, 10),
          Mix.USUAL, new Bounds(14, 165, 9.5, 75, 15, 10),
          Mix.NASTY, new Bounds(30, 60, 12, UNASKED, UNASKED, 20));

  @ParameterizedTest
  @EnumSource(names = "STRANGE", mode = EnumSource.Mode.EXCLUDE)
  void theFirstFewOfEachMixAreJudgedWithoutHarm(Mix mix) {
    hold(mix, FEW, BOUNDS_OF_FEW.get(mix));
  }

  @Test
  @Tag("bench")
  void aSteadyRoomIsJudgedInTimeAndWithoutHarm() {
    holdMany(Mix.CLEAN, new Bounds(10, 18, 4.2, 55, 9, 7.5));
  }

  @Test
  @Tag("bench")
  void whatUsuallyHappensDoesNoHarm() {
    holdBoth(
        Mix.USUAL, new Bounds(15, 120, 8.4, 100, 22, 13), new Bounds(13, 105, 8.4, 75, 14, 10));
  }

  @Test
  @Tag("bench")
  void roughHandlingAndPoorStreamsDoNoHarm() {
    holdBoth(
        Mix.NASTY, new Bounds(47, 280, 9.6, 210, 80, 60), new Bounds(25, 240, 9.4, 85, 25, 17));
  }

  private static List<VerdictScore> holdMany(Mix mix, Bounds all) {
    List<VerdictScore> scores = hold(mix, MANY, all);
    hold(mix + ", the first", scores.subList(0, SOME), BOUNDS_OF_SOME.get(mix));
    return scores;
  }

  /**
   * Holds a mix in two ways.
   *
   * @param calm what its trackers in rooms that do not cycle may have at most
   */
  private static void holdBoth(Mix mix, Bounds all, Bounds calm) {
    List<VerdictScore> scores = holdMany(mix, all);
    hold(mix + ", rooms without a cycle", scores.stream().filter(s -> !s.cycling()).toList(), calm);
  }

  private static List<VerdictScore> hold(Mix mix, int trackers, Bounds bounds) {
    List<VerdictScore> scores = VerdictRuns.of(mix, trackers, SEED, Limits.DEFAULT);
    assertThat(scores).hasSize(trackers);
    hold(mix.toString(), scores, bounds);
    return scores;
  }

  private static void hold(String name, List<VerdictScore> scores, Bounds bounds) {
    VerdictTable table = new VerdictTable(scores);
    table.print(name.toLowerCase(Locale.ROOT), new PrintWriter(System.out, true));
    assertThat(scores.stream().filter(VerdictScore::could).count())
        .as("trackers that could be ready, so that the figures below mean something")
        .isGreaterThan(scores.size() / 2);
    assertThat(table.harmful()).as("trackers with harmful entries").isZero();
    assertThat(table.neverShare()).as("share never declared").isZero();
    atMost("median delay, s", table.delayQuantileS(0.5), bounds.medianDelayS);
    atMost("90th percentile of the delay, s", table.delayQuantileS(0.9), bounds.slowDelayS);
    atMost("changes of state an hour", table.changesPerHour(), bounds.changesPerHour);
    for (int way = 0; way < VerdictScore.WAY_PERCENT.length; way++) {
      String what = "error of the expected time at " + VerdictScore.WAY_PERCENT[way] + " %, s";
      if (!Double.isNaN(bounds.forecastErrorS[way])) {
        atMost(what, table.forecastErrorS(way), bounds.forecastErrorS[way]);
      }
    }
  }

  /** Not a number is no figure at all, and fails too. */
  private static void atMost(String what, double measured, double bound) {
    assertThat(measured).as(what).isLessThanOrEqualTo(bound);
  }
}
