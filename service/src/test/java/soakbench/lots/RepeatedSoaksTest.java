package soakbench.lots;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.stream.LongStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.demo.simulation.Mix;
import soakbench.lots.SimulatedUnits.Setting;
import soakbench.model.Estimate;

/**
 * Several soaks of simulated units, from their lines to the unit's coefficient: how often its 95 %
 * interval holds, however many soaks there are. Prints what it counts.
 */
class RepeatedSoaksTest {
  private static final Setting SHORT = new Setting(Mix.CLEAN, 1500, true);
  private static final int[] SOAKS = {1, 2, 5, 10, 20};
  private static final int MOST = 20;

  /** One and the same lag is in all soaks, so ten are worth less than ten independent ones. */
  @Test
  void tenSoaksKnowTheCoefficientWorseThanIfNoneRepeatedAnyError() {
    SimulatedUnits.Unit unit = SimulatedUnits.unit(7001, 10, SHORT);
    TrackerCurves curves = TrackerCurves.of(unit.soaks());
    double celsius = curves.figures().operatingC();
    for (int i = 0; i < 3; i++) {
      Estimate together = curves.figures().axes().get(i).bias().tempcoDpsPerC();
      double truth = unit.slope(i, celsius);
      assertThat(truth).isBetween(together.low(), together.high());
      assertThat(together.se()).isGreaterThan(1.05 * independentSe(curves, i, celsius));
      double repeatedSe = repeatedSe(curves, i, celsius);
      assertThat(repeatedSe).isPositive();
      assertThat(together.se()).isGreaterThan(repeatedSe);
    }
  }

  /** The least that the lag does to any of the soaks, deg/s per degC: all have at least that. */
  private static double repeatedSe(TrackerCurves unit, int axis, double celsius) {
    return unit.curves().stream()
        .map(c -> c.axes().get(axis).tempcoDpsPerC(celsius))
        .mapToDouble(p -> Math.abs(p.repeated().get(0).sd()))
        .min()
        .orElseThrow();
  }

  private static double independentSe(TrackerCurves unit, int axis, double celsius) {
    List<Part> parts =
        unit.curves().stream()
            .filter(c -> c.reaches(celsius))
            .map(c -> c.axes().get(axis).tempcoDpsPerC(celsius))
            .map(p -> Part.of(p.estimate()))
            .toList();
    return RandomEffects.of(parts).mean().se();
  }

  /** How often an interval held, by the count of soaks. */
  private static final class Coverage {
    private final Map<Integer, int[]> heldOf = new TreeMap<>();

    synchronized void add(int soaks, Estimate e, double truth) {
      int[] count = heldOf.computeIfAbsent(soaks, n -> new int[2]);
      count[0] += e.low() <= truth && truth <= e.high() ? 1 : 0;
      count[1]++;
    }

    double percent(int soaks) {
      return 100.0 * heldOf.get(soaks)[0] / heldOf.get(soaks)[1];
    }

    @Override
    public String toString() {
      StringBuilder text = new StringBuilder();
      heldOf.forEach(
          (n, c) ->
              text.append(String.format(Locale.ROOT, "; %d: %.1f %% of %d", n, percent(n), c[1])));
      return text.substring(2);
    }
  }

  private static void count(Coverage own, Coverage at31, SimulatedUnits.Unit unit) {
    for (int n : SOAKS) {
      for (int from = 0; from + n <= MOST; from += n) {
        TrackerCurves curves = TrackerCurves.of(unit.soaks().subList(from, from + n));
        count(own, n, curves.figures(), unit);
        count(at31, n, curves.at(31), unit);
      }
    }
  }

  private static void count(
      Coverage coverage, int soaks, TrackerFigures figures, SimulatedUnits.Unit unit) {
    for (int i = 0; i < 3; i++) {
      Estimate e = figures.axes().get(i).bias().tempcoDpsPerC();
      if (e.known()) {
        coverage.add(soaks, e, unit.slope(i, figures.operatingC()));
      }
    }
  }

  /** Seeds and lengths other than those that the method was tried on. */
  @Test
  @Tag("bench")
  void theIntervalOfOneToTwentySoaksHoldsInNinetyThreeToNinetySevenOfAHundred() {
    covers("short soaks in one place", 210_000, SHORT);
    covers("long soaks in one place", 220_000, new Setting(Mix.CLEAN, 3300, true));
    covers("soaks anywhere", 230_000, new Setting(Mix.CLEAN, 2100, false));
  }

  private static void covers(String what, long seed, Setting setting) {
    int units = Integer.getInteger("soakbench.test.units", 60);
    Coverage own = new Coverage();
    Coverage at31 = new Coverage();
    LongStream.range(seed, seed + units)
        .parallel()
        .forEach(s -> count(own, at31, SimulatedUnits.unit(s, MOST, setting)));
    System.out.println(what + ", own temperature: " + own + "; at 31 degC: " + at31);
    for (int n : SOAKS) {
      assertThat(own.percent(n)).as(what + ", " + n + " soaks").isBetween(93.0, 97.0);
      assertThat(at31.percent(n)).as(what + ", " + n + " soaks at 31 degC").isBetween(93.0, 97.0);
    }
  }
}
