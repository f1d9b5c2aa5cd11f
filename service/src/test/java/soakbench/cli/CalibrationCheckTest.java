package soakbench.cli;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.demo.Axis;
import soakbench.demo.Correction;
import soakbench.demo.Handling;
import soakbench.demo.HandlingRuns;
import soakbench.demo.Recipe;
import soakbench.demo.Span;
import soakbench.demo.Truth;
import soakbench.drift.CalibrationSeen;
import soakbench.drift.CalibrationWatch;
import soakbench.drift.Heading;
import soakbench.model.Bin;
import soakbench.model.Estimate;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.CalibrationCheck;

/**
 * How often the check says keep or do again as the truth does, of firmware that corrects. A still
 * unit can't tell the Earth's rotation from a bias; how many are right where the truth is farther
 * than that from the limit is printed beside it.
 */
class CalibrationCheckTest {
  private static final long START_S = 1_767_254_400;

  /** The Earth's rate (IERS), deg/s. */
  private static final double EARTH_DPS = 0.004178;

  private static final Estimate NOT_ASKED = Estimate.unknown("not asked");
  private static final Heading NO_USE =
      new Heading(null, null, null, NOT_ASKED, NOT_ASKED, List.of(), 0.25, null);

  private record Run(boolean seen, boolean good, double trueDps, CalibrationCheck check) {
    boolean clear() {
      return Math.abs(trueDps - CalibrationCheck.LIMIT_DPS) > EARTH_DPS;
    }

    boolean right() {
      return (check.verdict() == CalibrationCheck.Verdict.KEEP) == good;
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
  @Tag("bench")
  void theVerdictIsTheTruthsFiveHundredTimes() {
    judge(500, 1_720_000);
  }

  private static void judge(int count, long seed) {
    List<Run> runs =
        IntStream.range(0, count)
            .parallel()
            .mapToObj(i -> run(i, seed + i))
            .filter(Run::seen)
            .toList();
    long right = runs.stream().filter(Run::right).count();
    System.out.printf(
        "calibration checks right: %d of %d (%d to keep); wrong ones' true deg/s: %s%n",
        right,
        runs.size(),
        runs.stream().filter(Run::good).count(),
        runs.stream().filter(r -> !r.right()).map(Run::trueDps).toList());
    List<Run> clear = runs.stream().filter(Run::clear).toList();
    long clearlyRight = clear.stream().filter(Run::right).count();
    System.out.printf("beyond the Earth's rate: %d of %d%n", clearlyRight, clear.size());
    assertThat(right).isGreaterThanOrEqualTo((long) Math.ceil(0.95 * runs.size()));
  }

  private static Run run(int index, long seed) {
    Handling.Kind kind = index % 2 == 0 ? Handling.Kind.SIX_POSES : Handling.Kind.CLUMSY;
    Recipe recipe = HandlingRuns.of(kind, seed, true, true, Correction.of(Correction.Kind.STORED));
    CalibrationWatch watch = new CalibrationWatch();
    CalibrationSeen mark = null;
    List<Bin> after = new ArrayList<>();
    for (Bin bin : HandledBins.of(recipe)) {
      Optional<CalibrationSeen> one = watch.accept(bin);
      mark = one.filter(CalibrationSeen::sure).orElse(mark);
      if (mark != null && after.size() < CalibrationCheck.LOOK_S) {
        after.add(bin);
      }
    }
    if (mark == null) {
      return new Run(false, false, 0, null);
    }
    double[] n = recipe.unit().axes().stream().mapToDouble(Axis::whiteDps).toArray();
    double[] b =
        recipe.unit().axes().stream().mapToDouble(a -> a.flickerDegPerH() / 3600).toArray();
    CalibrationCheck check = CalibrationCheck.of(mark, after, Rates.CORRECTED, n, b, NO_USE);
    double left = left(recipe, (int) (after.get(0).second() - START_S));
    return new Run(true, left <= CalibrationCheck.LIMIT_DPS, left, check);
  }

  /** Greatest difference of an axis between the checked minute and the poses, without noise. */
  private static double left(Recipe recipe, int fromS) {
    Truth truth = Truth.of(recipe);
    double most = 0;
    for (Axis axis : recipe.unit().axes()) {
      double now =
          IntStream.range(fromS, fromS + CalibrationCheck.LOOK_S)
              .mapToDouble(s -> bias(axis, truth, s))
              .average()
              .orElseThrow();
      List<Span> poses = recipe.events().handlings().get(0).rests();
      double then =
          poses.stream()
              .flatMapToInt(p -> IntStream.range((int) p.fromS(), (int) p.toS()))
              .mapToDouble(s -> bias(axis, truth, s))
              .average()
              .orElseThrow();
      most = Math.max(most, Math.abs(now - then));
    }
    return most;
  }

  private static double bias(Axis axis, Truth truth, int s) {
    double d = truth.temperatureC()[s] - Axis.REFERENCE_C;
    double[] c = axis.coefficients();
    double lag = axis.lagDpsPerCPerS() * truth.rateCPerMin()[s] / 60;
    return c[0] + d * (c[1] + d * (c[2] + d * c[3])) + lag;
  }
}
