package soakbench.cli.commands;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.Predicate;
import java.util.stream.IntStream;
import org.hipparchus.analysis.polynomials.PolynomialFunction;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.demo.TrueBias;
import soakbench.demo.simulation.HandlingRuns;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Correction;
import soakbench.demo.unit.Handling;
import soakbench.drift.calibration.HandlingSeen;
import soakbench.drift.heading.Heading;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;
import soakbench.readiness.CalibrationCheck;
import soakbench.readiness.CalibrationCheck.Verdict;

/**
 * How often the check says keep or do again as the truth does. Where noise, the Earth's rotation
 * and the limit leave no verdict it tells none; how many those are is printed and bounded.
 */
class CalibrationCheckTest {
  private static final long START_S = 1_767_254_400;

  private static final double USE_C = Limits.DEFAULT.useTemperatureC();

  private static final Estimate NOT_ASKED = Estimate.unknown("not asked");
  private static final Heading NO_USE =
      new Heading(new Heading.Asked(null, null, null), NOT_ASKED, NOT_ASKED, List.of(), 0.25, null);

  /**
   * One check.
   *
   * @param nowDps what is truly left, of the worst axis
   * @param useDps the same at the temperature in use
   */
  private record Run(double nowDps, double useDps, CalibrationCheck check) {
    /** Whether what is left is good, now and in use. */
    boolean good() {
      return goodNow() && useDps <= CalibrationCheck.LIMIT_DPS;
    }

    boolean goodNow() {
      return nowDps <= CalibrationCheck.LIMIT_DPS;
    }

    String shown() {
      return String.format(
          "true %.4f now, %.4f in use, %s: %s",
          nowDps, useDps, check.verdict().word(), check.reason());
    }
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
    return new Heading(
        new Heading.Asked(calibratedC, useC, null), rate, NOT_ASKED, List.of(), 0.25, null);
  }

  /** What is said where this much is left on x. */
  private static String told(double xDps, long openS, double spreadC, Heading toUse) {
    HandlingSeen mark =
        new HandlingSeen(
            1000,
            1000 + openS,
            HandlingSeen.Kind.CALIBRATION,
            31,
            new double[3],
            60,
            6,
            true,
            openS,
            spreadC);
    Estimate none = Estimate.of(0, 0.002, 1.96);
    List<Estimate> residual = List.of(Estimate.of(xDps, 0.002, 1.96), none, none);
    return CalibrationCheck.of(mark, residual, toUse).reason();
  }

  @Test
  void theVerdictIsTheTruths() {
    judge(6, 3_330_000);
  }

  @Test
  @Tag("bench")
  void theVerdictIsTheTruthsTwoDozenTimes() {
    judge(24, 3_330_000);
  }

  @Test
  @Tag("bench")
  void theVerdictIsTheTruthsFiveHundredTimes() {
    judge(500, 7_430_000);
  }

  private static void judge(int count, long seed) {
    List<Map<Rates, Run>> runs =
        IntStream.range(0, count)
            .parallel()
            .mapToObj(i -> run(i, seed + i))
            .flatMap(Optional::stream)
            .toList();
    for (Rates rates : List.of(Rates.CONSTANT, Rates.RAW)) {
      judge(rates, runs.stream().map(r -> r.get(rates)).toList());
    }
  }

  private static void judge(Rates rates, List<Run> runs) {
    judge(rates + ", now and in use", runs, CalibrationCheck::verdict, Run::good);
    judge(rates + ", now alone", runs, CalibrationCheck::verdictNow, Run::goodNow);
  }

  private static void judge(
      String what,
      List<Run> runs,
      Function<CalibrationCheck, Verdict> verdict,
      Predicate<Run> good) {
    List<Run> told =
        runs.stream().filter(r -> verdict.apply(r.check()) != Verdict.UNKNOWN).toList();
    List<Run> wrong =
        told.stream()
            .filter(r -> (verdict.apply(r.check()) == Verdict.KEEP) != good.test(r))
            .toList();
    System.out.printf(
        "%s: right %d of %d told, %d not told (%d truly good); wrong: %n%s%n",
        what,
        told.size() - wrong.size(),
        told.size(),
        runs.size() - told.size(),
        runs.stream().filter(good).count(),
        String.join("\n", wrong.stream().map(Run::shown).toList()));
    assertThat(told.size()).isGreaterThanOrEqualTo(runs.size() * 3 / 5);
    assertThat(wrong.size()).isLessThanOrEqualTo(Math.max(1, told.size() / 20));
  }

  /** The same handling of firmware that corrects and of firmware that does not. */
  private static Optional<Map<Rates, Run>> run(int index, long seed) {
    Handling.Kind kind = index % 2 == 0 ? Handling.Kind.SIX_POSES : Handling.Kind.CLUMSY;
    Correction stored = Correction.of(Correction.Kind.STORED);
    Recipe recipe = HandlingRuns.of(kind, seed, true, true, stored);
    HandledRun corrects = HandledRun.of(recipe);
    HandledRun prints = HandledRun.of(HandlingRuns.of(kind, seed, true, true, Correction.NONE));
    Optional<Calibration> corrected = checked(corrects, Rates.CONSTANT);
    Optional<Calibration> raw = checked(prints, Rates.RAW);
    if (corrected.isEmpty() || raw.isEmpty()) {
      return Optional.empty();
    }
    List<Bin> after = after(prints, corrected.get());
    double[] takenOff = less(read(after), read(after(corrects, corrected.get())));
    double[][] bias = TrueBias.dps(recipe);
    HandlingSeen seen = raw.get().handling();
    int liftedS = (int) (seen.atSecond() - START_S);
    double[] before = mean(bias, liftedS - seen.stillS(), liftedS);
    return Optional.of(
        Map.of(
            Rates.CONSTANT, run(recipe, after, bias, takenOff, corrected.get()),
            Rates.RAW, run(recipe, after(prints, raw.get()), bias, before, raw.get())));
  }

  private static Run run(
      Recipe recipe, List<Bin> after, double[][] bias, double[] takenOff, Calibration mark) {
    int fromS = (int) (after.get(0).second() - START_S);
    double[] left = less(mean(bias, fromS, fromS + after.size()), takenOff);
    CalibrationCheck check = mark.check().result();
    double nowC = after.get(after.size() - 1).temperatureC().mean();
    double inUse = most(less(left, change(recipe, USE_C, nowC)));
    return new Run(most(left), inUse, check);
  }

  /** By how much the bias at one temperature is below that at another, deg/s. */
  private static double[] change(Recipe recipe, double fromC, double toC) {
    return recipe.unit().axes().stream()
        .mapToDouble(axis -> curveDps(axis, toC) - curveDps(axis, fromC))
        .toArray();
  }

  private static double curveDps(Axis axis, double temperatureC) {
    return new PolynomialFunction(axis.coefficients()).value(temperatureC - Axis.REFERENCE_C);
  }

  /** The one mark of a run, if it could be checked. */
  private static Optional<Calibration> checked(HandledRun run, Rates rates) {
    return run.calibrations(rates).stream().filter(mark -> mark.check() != null).findFirst();
  }

  private static List<Bin> after(HandledRun run, Calibration mark) {
    long fromS = mark.check().fromUs() / 1_000_000;
    return run.bins().stream()
        .filter(bin -> bin.second() >= fromS)
        .limit(CalibrationCheck.LOOK_S)
        .toList();
  }

  private static double[] read(List<Bin> bins) {
    return mean(bins.stream().map(Bin::biasDps).toArray(double[][]::new), 0, bins.size());
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
