package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.SplittableRandom;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.demo.lines.LineStream;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.Truth;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.Uncovering;
import soakbench.demo.unit.UnitGenerator;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.ReadingJoiner;
import soakbench.live.memory.MemoryStore;
import soakbench.live.watch.SoakWatch;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.readiness.Readiness;
import soakbench.readiness.Unwrapped;

/**
 * The time unwrapped against simulated truth: a warm tracker is uncovered for five minutes, covered
 * again, and much later uncovered a second time. What was answered just before is held against what
 * its true bias then did. More runs in the bench form, and by {@code -Dsoakbench.runs}.
 */
class TimeUnwrappedTruthTest {
  private static final int RUNS = Integer.getInteger("soakbench.runs", 30);
  private static final int FEW = 6;
  private static final int CHUNK = 750;
  private static final int SECOND_S = 4800;

  private record Answer(boolean bare, Unwrapped unwrapped, double trueS, String what) {
    boolean known() {
      return unwrapped.reason() == null;
    }

    double atMostS() {
      return unwrapped.timeS().low();
    }

    /** Whether nobody who keeps to it comes to harm. */
    boolean safe() {
      return beyondRecord() || atMostS() <= trueS;
    }

    /** Whether the truth lies beyond what a cooling of five minutes can tell. */
    boolean beyondRecord() {
      return Double.isNaN(trueS) || trueS > 300;
    }

    /** Whether it is this part of the truth or more. */
    boolean atLeast(double part) {
      return atMostS() >= part * trueS;
    }
  }

  @Test
  void ofAFewTheAnswerIsOnTheSafeSideAndNotFarFromTheTruth() {
    judge(FEW, 0.25);
  }

  @Test
  @Tag("bench")
  void theAnswerIsOnTheSafeSideAndNotFarFromTheTruth() {
    judge(RUNS, 0.5);
  }

  private static void judge(int runs, double part) {
    List<Answer> answers =
        IntStream.range(0, runs).parallel().mapToObj(TimeUnwrappedTruthTest::run).toList();
    long safe = 0;
    long enough = 0;
    long within = 0;
    long known = 0;
    for (boolean bare : new boolean[] {false, true}) {
      List<Answer> some = answers.stream().filter(a -> a.bare == bare && a.known()).toList();
      List<Answer> told = some.stream().filter(a -> !a.beyondRecord()).toList();
      some.stream().filter(a -> !a.safe()).forEach(a -> System.out.println("too long: " + a));
      long safeHere = some.stream().filter(Answer::safe).count();
      long enoughHere = told.stream().filter(a -> a.atLeast(part)).count();
      System.out.printf(
          Locale.ROOT,
          "%s: %d of %d answered; at or below the truth %d of %d; %.2f of it or more %d of %d"
              + " (true median %.0f s, told %.0f s)%n",
          bare ? "board laid bare" : "cover opened",
          some.size(),
          answers.stream().filter(a -> a.bare == bare).count(),
          safeHere,
          some.size(),
          part,
          enoughHere,
          told.size(),
          median(told.stream().mapToDouble(Answer::trueS)),
          median(told.stream().mapToDouble(Answer::atMostS)));
      safe += safeHere;
      enough += enoughHere;
      within += told.size();
      known += some.size();
    }
    assertThat(known).as("answers").isGreaterThan(runs / 2);
    assertThat(safe).as("at or below the truth, of " + known).isGreaterThan((long) (0.95 * known));
    assertThat(enough).as(part + " of it or more, of " + within).isGreaterThan(within / 2);
  }

  private static double median(DoubleStream values) {
    double[] sorted = values.sorted().toArray();
    return sorted.length == 0 ? Double.NaN : sorted[sorted.length / 2];
  }

  private static Answer run(int seed) {
    Draw draw = new Draw(new SplittableRandom(4000 + seed));
    SimulatedUnit unit = UnitGenerator.unit("U-" + seed, "lot", 1, draw.chance(0.5), draw);
    Heating heating =
        Heating.steady(
            draw.uniform(19, 24),
            draw.uniform(29, 33),
            draw.uniform(0.8, 3),
            draw.uniform(15, 45),
            draw.uniform(500, 1300));
    boolean bare = draw.chance(0.5);
    double drop = draw.uniform(2, 6);
    double chip = bare ? draw.uniform(0.5, 3) : 0;
    List<Uncovering> uncoverings =
        List.of(
            new Uncovering(2700, 3000, drop, chip),
            new Uncovering(SECOND_S, SECOND_S + 300, drop, chip));
    Events events = new Events(List.of(), uncoverings, List.of(), List.of());
    Recipe recipe = Recipes.run(unit, heating, events, LineStream.clean(5), SECOND_S + 310);
    double trueS = Truth.of(recipe).movedAfterS(SECOND_S, Limits.DEFAULT.shiftLimitDps());
    return new Answer(bare, before(recipe, SECOND_S), trueS, heating + " " + uncoverings);
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
    for (int from = 0; from < bytes.length; from += CHUNK) {
      reader.feed(
          Arrays.copyOfRange(bytes, from, Math.min(bytes.length, from + CHUNK)),
          0,
          Math.min(CHUNK, bytes.length - from));
      if (!batch.isEmpty()) {
        watch.accept(List.copyOf(batch));
        batch.clear();
      }
    }
    return last[0];
  }
}
