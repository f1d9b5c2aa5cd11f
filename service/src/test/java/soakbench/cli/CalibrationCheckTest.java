package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.demo.Axis;
import soakbench.demo.Correction;
import soakbench.demo.Handling;
import soakbench.demo.HandlingRuns;
import soakbench.demo.Recipe;
import soakbench.demo.TrueBias;
import soakbench.drift.CalibrationSeen;
import soakbench.drift.CalibrationWatch;
import soakbench.drift.Heading;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.CalibrationCheck;

/**
 * How often the check says keep or do again as the truth does. Where noise, the Earth's rotation
 * and the limit leave no verdict it tells none; how many those are is printed and bounded.
 */
class CalibrationCheckTest {
  private static final long START_S = 1_767_254_400;

  private static final Estimate NOT_ASKED = Estimate.unknown("not asked");
  private static final Heading NO_USE =
      new Heading(null, null, null, NOT_ASKED, NOT_ASKED, List.of(), 0.25, null);

  /**
   * One check.
   *
   * @param trueDps what is left, of the worst axis; what is left is good within the limit
   */
  private record Run(double trueDps, CalibrationCheck check) {
    boolean good() {
      return trueDps <= CalibrationCheck.LIMIT_DPS;
    }

    boolean decided() {
      return check.verdict() != CalibrationCheck.Verdict.UNKNOWN;
    }

    boolean right() {
      return (check.verdict() == CalibrationCheck.Verdict.KEEP) == good();
    }

    String shown() {
      return String.format(
          "true %.4f, measured %.4f, se %.4f, %s",
          trueDps,
          check.degPerMin().value() / 60,
          check.degPerMin().se() / 60,
          check.verdict().word());
    }
  }

  @Test
  void nothingIsToldOfRatesThatNobodyDescribed() {
    CalibrationSeen mark =
        new CalibrationSeen(
            1000, 1060, CalibrationSeen.Kind.CALIBRATION, 31, new double[3], 60, 6, true, 60, 0.2);
    List<Bin> still = java.util.Collections.nCopies(CalibrationCheck.LOOK_S, null);
    CalibrationCheck check =
        CalibrationCheck.of(mark, still, Rates.UNKNOWN, new double[3], new double[3], NO_USE);
    assertThat(check.verdict()).isEqualTo(CalibrationCheck.Verdict.UNKNOWN);
    assertThat(check.residualDps()).noneMatch(Estimate::known);
    assertThat(check.reason()).contains("raw or corrected");
  }

  @Test
  void whatToDoOtherwiseIsSaidByWhatWentWrong() {
    assertThat(told(0.05, 60, 0.2, NO_USE)).contains("do it again, stiller");
    assertThat(told(0.05, 400, 0.2, NO_USE)).contains("do it again, quicker");
    assertThat(told(0.05, 60, 2.5, NO_USE)).contains("do it again, quicker");
    assertThat(told(0.001, 60, 0.2, use(27, 31, 3))).contains("warmer: nearer to the 31.0 degC");
    assertThat(told(0.001, 60, 0.2, use(33, 31, 3))).contains("cooler: nearer to the 31.0 degC");
    assertThat(told(0.001, 60, 0.2, use(31, 31, 0))).contains("is left").doesNotContain("again");
    assertThat(told(0.014, 60, 0.2, NO_USE)).contains("too close to tell");
  }

  private static Heading use(double calibratedC, double useC, double degPerMin) {
    Estimate rate = Estimate.of(degPerMin, 0.01, 1.96);
    return new Heading(calibratedC, useC, null, rate, NOT_ASKED, List.of(), 0.25, null);
  }

  /** What is said of corrected rates that read this much on x in a still minute. */
  private static String told(double xDps, long openS, double spreadC, Heading toUse) {
    CalibrationSeen mark =
        new CalibrationSeen(
            1000,
            1000 + openS,
            CalibrationSeen.Kind.CALIBRATION,
            31,
            new double[3],
            60,
            6,
            true,
            openS,
            spreadC);
    Bin.Channel none = Bin.Channel.EMPTY;
    Bin.Channel zero = new Bin.Channel(10, 0, 0.01);
    Bin.Channel[] rates = {new Bin.Channel(10, xDps, 0.01), zero, zero};
    Bin.Channel[] accel = {none, none, none};
    List<Bin> still =
        IntStream.range(0, CalibrationCheck.LOOK_S)
            .mapToObj(s -> new Bin("T-1", 2000 + s, 0, 0, 0, none, rates, accel, 0.01, 0.001))
            .toList();
    return CalibrationCheck.of(
            mark, still, Rates.CORRECTED, new double[] {1e-3, 1e-3, 1e-3}, new double[3], toUse)
        .reason();
  }

  @Test
  void theVerdictIsTheTruths() {
    judge(24, 3_330_000);
  }

  @Test
  @Tag("bench")
  void theVerdictIsTheTruthsFiveHundredTimes() {
    judge(500, 1_720_000);
  }

  private static void judge(int count, long seed) {
    List<Map<Rates, Run>> runs =
        IntStream.range(0, count)
            .parallel()
            .mapToObj(i -> run(i, seed + i))
            .flatMap(Optional::stream)
            .toList();
    for (Rates rates : List.of(Rates.CORRECTED, Rates.RAW)) {
      judge(rates, runs.stream().map(r -> r.get(rates)).toList());
    }
  }

  private static void judge(Rates rates, List<Run> runs) {
    List<Run> decided = runs.stream().filter(Run::decided).toList();
    List<Run> wrong = decided.stream().filter(r -> !r.right()).toList();
    System.out.printf(
        "%s: right %d of %d decided, %d undecided (%d truly good); wrong: %n%s%n",
        rates,
        decided.size() - wrong.size(),
        decided.size(),
        runs.size() - decided.size(),
        runs.stream().filter(Run::good).count(),
        String.join("\n", wrong.stream().map(Run::shown).toList()));
    assertThat(decided.size()).isGreaterThanOrEqualTo(runs.size() / 4);
    assertThat(wrong.size()).isLessThanOrEqualTo(Math.max(1, decided.size() / 20));
  }

  /** The same handling of firmware that corrects and of firmware that does not. */
  private static Optional<Map<Rates, Run>> run(int index, long seed) {
    Handling.Kind kind = index % 2 == 0 ? Handling.Kind.SIX_POSES : Handling.Kind.CLUMSY;
    Correction stored = Correction.of(Correction.Kind.STORED);
    Recipe corrects = HandlingRuns.of(kind, seed, true, true, stored);
    Seen corrected = Seen.in(HandledBins.of(corrects));
    Seen raw = Seen.in(HandledBins.of(HandlingRuns.of(kind, seed, true, true, Correction.NONE)));
    if (corrected.mark() == null || raw.mark() == null) {
      return Optional.empty();
    }
    double[][] bias = TrueBias.dps(corrects);
    double[] now = mean(bias, raw.fromS(), raw.fromS() + CalibrationCheck.LOOK_S);
    int liftedS = (int) (raw.mark().atSecond() - START_S);
    double[] before = mean(bias, liftedS - raw.mark().stillS(), liftedS);
    double[] takenOff = less(raw.meanDps(), corrected.meanDps());
    return Optional.of(
        Map.of(
            Rates.CORRECTED,
            new Run(most(less(now, takenOff)), corrected.check(corrects, Rates.CORRECTED)),
            Rates.RAW,
            new Run(most(less(now, before)), raw.check(corrects, Rates.RAW))));
  }

  /** A mark and the still minute after it; no mark where none was seen. */
  private record Seen(CalibrationSeen mark, List<Bin> after) {
    static Seen in(List<Bin> bins) {
      CalibrationWatch watch = new CalibrationWatch();
      CalibrationSeen mark = null;
      List<Bin> after = new ArrayList<>();
      for (Bin bin : bins) {
        Optional<CalibrationSeen> one = watch.accept(bin);
        mark = one.filter(CalibrationSeen::sure).orElse(mark);
        if (mark != null && after.size() < CalibrationCheck.LOOK_S) {
          after.add(bin);
        }
      }
      return new Seen(mark, after);
    }

    int fromS() {
      return (int) (after.get(0).second() - START_S);
    }

    double[] meanDps() {
      return mean(after.stream().map(Bin::biasDps).toArray(double[][]::new), 0, after.size());
    }

    CalibrationCheck check(Recipe recipe, Rates rates) {
      List<Axis> axes = recipe.unit().axes();
      double[] n = axes.stream().mapToDouble(Axis::whiteDps).toArray();
      double[] b = axes.stream().mapToDouble(a -> a.flickerDegPerH() / 3600).toArray();
      return CalibrationCheck.of(mark, after, rates, n, b, NO_USE);
    }
  }

  private static double[] mean(double[][] rows, int from, int to) {
    double[] mean = new double[3];
    for (int s = from; s < to; s++) {
      for (int i = 0; i < 3; i++) {
        mean[i] += rows[s][i] / (to - from);
      }
    }
    return mean;
  }

  private static double[] less(double[] a, double[] b) {
    return new double[] {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
  }

  private static double most(double[] v) {
    return Math.max(Math.abs(v[0]), Math.max(Math.abs(v[1]), Math.abs(v[2])));
  }
}
