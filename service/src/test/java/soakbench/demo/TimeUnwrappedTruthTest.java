package soakbench.demo;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.ReadingJoiner;
import soakbench.live.MemoryStore;
import soakbench.live.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.readiness.Readiness;
import soakbench.readiness.Unwrapped;

/**
 * The time unwrapped against simulated truth: a warm tracker is uncovered for five minutes, covered
 * again, and much later uncovered a second time. What was answered just before is held against what
 * its true bias then did.
 */
class TimeUnwrappedTruthTest {
  private static final int RUNS = Integer.getInteger("runs", 60);
  private static final int SECOND_S = 4800;

  private record Answer(Unwrapped unwrapped, double trueS, String how) {}

  @Test
  void print() {
    List<Answer> answers =
        IntStream.range(0, RUNS).parallel().mapToObj(TimeUnwrappedTruthTest::run).toList();
    for (boolean bare : new boolean[] {false, true}) {
      int known = 0, safe = 0, half = 0, halfOf = 0, cens = 0;
      List<Double> trues = new ArrayList<>(), lows = new ArrayList<>();
      for (Answer a : answers) {
        if (a.how.startsWith("bare") != bare) continue;
        if (a.unwrapped.reason() != null) {
          System.out.println(a.how + " " + a.unwrapped.reason());
          continue;
        }
        known++;
        double low = a.unwrapped.timeS().low();
        boolean c = Double.isNaN(a.trueS) || a.trueS > 300;
        boolean ok = c || low <= a.trueS;
        if (ok) safe++;
        if (c) cens++;
        else {
          halfOf++;
          if (low >= a.trueS / 2) half++;
          trues.add(a.trueS);
          lows.add(low);
        }
        if (!ok || System.getProperty("verbose") != null)
          System.out.printf(
              "%s true %.1f answer %s %s%n",
              ok ? "" : "UNSAFE", a.trueS, a.unwrapped.timeS(), a.how);
      }
      System.out.printf(
          "bare %s: known %d safe %d half %d of %d censored %d; true median %s low median %s%n",
          bare, known, safe, half, halfOf, cens, med(trues), med(lows));
    }
  }

  private static double med(List<Double> v) {
    double[] s = v.stream().mapToDouble(x -> x).sorted().toArray();
    return s.length == 0 ? Double.NaN : s[s.length / 2];
  }

  private static Answer run(int seed) {
    Draw draw = new Draw(new SplittableRandom(4000 + seed));
    SimulatedUnit unit = UnitMaker.unit("U-" + seed, "lot", 1, draw.chance(0.5), draw);
    Heating heating =
        Heating.steady(
            draw.between(19, 24),
            draw.between(29, 33),
            draw.between(0.8, 3),
            draw.between(15, 45),
            draw.between(500, 1300));
    boolean bare = draw.chance(0.5);
    double drop = draw.between(2, 6);
    double chip = bare ? draw.between(0.5, 3) : 0;
    Events events =
        new Events(
            List.of(),
            List.of(new Lid(2700, 3000, drop, chip), new Lid(SECOND_S, SECOND_S + 300, drop, chip)),
            List.of(),
            List.of());
    Recipe recipe = Recipes.run(unit, heating, events, 5150);
    Truth truth = Truth.of(recipe);
    String how =
        String.format(
            "%s drop %.1f chip %.1f chipS %.0f body %.0f slopes %s lag %s",
            bare ? "bare" : "lid",
            drop,
            chip,
            heating.chipS(),
            heating.bodyS(),
            unit.axes().stream().map(a -> String.format("%.3f", a.coefficients()[1])).toList(),
            unit.axes().stream().map(a -> String.format("%.2f", a.lagDpsPerCPerS())).toList());
    return new Answer(before(recipe, SECOND_S), truth.movedAfterS(SECOND_S, 0.010), how);
  }

  private static Unwrapped before(Recipe recipe, int second) {
    SoakWatch watch = new SoakWatch(new MemoryStore(), Limits.DEFAULT, () -> 0);
    Unwrapped[] last = new Unwrapped[1];
    long untilUs = recipe.startUs() + second * 1_000_000L;
    watch.subscribe(
        verdicts -> {
          for (Readiness r : verdicts) {
            if (r.asOfUs() <= untilUs) {
              last[0] = r.unwrapped();
            }
          }
        });
    ReadingJoiner joiner = new ReadingJoiner(recipe.unit().id(), 30);
    List<Sample> batch = new ArrayList<>();
    LineReader reader =
        new LineReader(
            new LineCounters(),
            r -> {
              joiner.take(r, r.timeUs(), batch::add);
              return null;
            });
    byte[] bytes = Recipes.bytes(recipe);
    for (int from = 0; from < bytes.length; from += 1500) {
      reader.feed(
          Arrays.copyOfRange(bytes, from, Math.min(bytes.length, from + 1500)),
          0,
          Math.min(1500, bytes.length - from));
      if (!batch.isEmpty()) {
        watch.accept(List.copyOf(batch));
        batch.clear();
      }
    }
    return last[0];
  }
}
