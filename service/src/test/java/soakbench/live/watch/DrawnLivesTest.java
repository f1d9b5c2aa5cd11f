package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayDeque;
import java.util.ArrayList;
import java.util.Deque;
import java.util.List;
import java.util.function.Consumer;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.Drawn;
import soakbench.live.Samples;
import soakbench.live.SomeLimits;
import soakbench.live.StoreContents;
import soakbench.live.memory.FaultyStore;
import soakbench.model.LimitKey;
import soakbench.model.Sample;
import soakbench.model.Soak;

/**
 * Two trackers, whose lines come at any rate, in time or late, in pieces that the clock does not
 * keep pace with: what is kept of a life in which the store failed once is that of a life in which
 * it never did.
 */
class DrawnLivesTest {
  private static final String[] TRACKERS = {Samples.TRACKER, "T-0413"};
  private static final Double[] APART_S = {0.05, 0.1, 0.2, 1.0, 4.0};
  private static final Double[] QUIET_S = {2.5, 15.0, 200.0, 700.0};
  private static final int STEPS = 24;

  /** Longer than any stream's silence, shorter than what ends a soak, s. */
  private static final double SILENCE_S = 301;

  /** One tracker's lines, made as they are wanted. */
  private static final class Line {
    final String tracker;
    final Deque<List<Sample>> held = new ArrayDeque<>();
    private final Samples.Maker maker;
    private int made;
    long sent;
    long newestUs = Long.MIN_VALUE;

    Line(String tracker, double apartS) {
      this.tracker = tracker;
      this.maker = new Samples.Maker().named(tracker).every(apartS);
    }

    Samples.Maker maker() {
      return maker;
    }

    List<Sample> next(double seconds) {
      List<Sample> all = maker.lines(seconds).samples();
      List<Sample> piece = all.subList(made, all.size());
      made = all.size();
      return piece;
    }

    List<Sample> noted(List<Sample> piece) {
      sent += piece.size();
      piece.forEach(s -> newestUs = Math.max(newestUs, s.timeUs()));
      return piece;
    }
  }

  /** What happens, drawn before it is lived. */
  private static final class Script {
    final List<Consumer<StoredLife>> steps = new ArrayList<>();
    final List<Line> lines = new ArrayList<>();
    private final Drawn drawn;

    Script(Drawn drawn) {
      this.drawn = drawn;
      for (String tracker : TRACKERS) {
        lines.add(new Line(tracker, drawn.of(APART_S)));
      }
      for (int i = 0; i < STEPS; i++) {
        draw(lines.get(drawn.random().nextInt(lines.size())));
      }
    }

    private void draw(Line line) {
      int kind = drawn.random().nextInt(16);
      if (kind < 8) {
        send(line, line.next(drawn.from(1.0, 8.0)));
      } else if (kind < 9) {
        line.held.add(line.next(drawn.from(1.0, 8.0)));
      } else if (kind < 11) {
        late(line);
      } else if (kind < 12) {
        interrupt(line);
      } else if (kind < 13) {
        pass(drawn.from(1.0, 15.0));
      } else if (kind < 15) {
        end(line);
      } else {
        restartOrChange();
      }
    }

    private void send(Line line, List<Sample> piece) {
      List<Sample> noted = line.noted(piece);
      steps.add(life -> life.send(noted));
      pass(drawn.from(0.0, 8.0));
    }

    private void late(Line line) {
      if (!line.held.isEmpty()) {
        send(line, line.held.poll());
      }
    }

    private void interrupt(Line line) {
      line.maker().quiet(drawn.of(QUIET_S));
      if (drawn.either()) {
        line.maker().reboot();
      }
    }

    private void pass(double seconds) {
      steps.add(life -> life.pass(seconds));
    }

    /** All that was heard until then belongs to what ends. */
    private void end(Line line) {
      long newestUs = line.newestUs;
      steps.add(
          life -> {
            boolean goesOn = life.newest(line.tracker).filter(Soak::open).isPresent();
            life.end(line.tracker);
            if (goesOn) {
              Soak ended = life.newest(line.tracker).orElseThrow();
              assertThat(ended.ended()).isEqualTo(Soak.End.TAKEN_OFF);
              assertThat(ended.endUs()).isEqualTo(newestUs);
            }
          });
    }

    private void restartOrChange() {
      if (drawn.either()) {
        steps.add(StoredLife::restart);
      } else {
        double stillS = drawn.from(5, 60);
        steps.add(life -> life.change(SomeLimits.with(LimitKey.STILL_FOR_S, stillS)));
      }
    }

    StoredLife live(FaultyStore store) {
      StoredLife life = new StoredLife(store);
      steps.forEach(step -> step.accept(life));
      life.settle();
      life.pass(SILENCE_S);
      life.finish();
      return life;
    }
  }

  private static void failuresChangeNothing(Drawn drawn, int failures) {
    Script script = new Script(drawn);
    FaultyStore sound = new FaultyStore(-1, false);
    StoredLife expected = script.live(sound);
    int calls = sound.calls();
    for (Line line : script.lines) {
      List<Soak> soaks = StoreContents.of(sound, line.tracker).soaks();
      assertThat(soaks.stream().mapToLong(Soak::samples).sum()).isEqualTo(line.sent);
    }
    for (int i = 0; i < failures; i++) {
      int failAt = 1 + drawn.random().nextInt(calls);
      boolean afterwards = drawn.either();
      FaultyStore faulty = new FaultyStore(failAt, afterwards);
      StoredLife life = script.live(faulty);
      assertThat(life.failures()).isEqualTo(1);
      for (String tracker : TRACKERS) {
        StoreContents.of(faulty, tracker).isSameButForMarksAs(StoreContents.of(sound, tracker));
      }
      assertThat(life.watch().readiness())
          .usingRecursiveComparison()
          .isEqualTo(expected.watch().readiness());
    }
  }

  @Test
  void aFailureOfTheStoreChangesNothingInTheEnd() {
    Drawn.casesFrom(1, 12, drawn -> failuresChangeNothing(drawn, 2));
  }

  @Test
  @Tag("bench")
  void aFailureOfTheStoreChangesNothingInTheEndOfManyLives() {
    Drawn.cases(300, drawn -> failuresChangeNothing(drawn, 8));
  }
}
