package soakbench.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.demo.Recipes;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Span;
import soakbench.model.State;
import soakbench.model.StateChange;

class MotionScoreTest {
  private static Motion motion(double fromS) {
    return new Motion(fromS, fromS + 8, Motion.Kind.BURST, new double[] {1, 0, 0}, 0, 0);
  }

  private static Recipe recipe(List<Motion> motions, List<Span> gaps) {
    return Recipes.run(
        Recipes.unit(Recipes.silentAxis(0)),
        Heating.steady(31, 31, 0, 20, 700),
        new Events(motions, List.of(), List.of(), gaps),
        3600);
  }

  /** Disturbed for a minute from each of these seconds on. */
  private static List<StateChange> disturbedFrom(int... seconds) {
    List<StateChange> out = new ArrayList<>();
    for (int s : seconds) {
      out.add(change(s, State.DISTURBED));
      out.add(change(s + 60, State.SOAKING));
    }
    return out;
  }

  private static StateChange change(int second, State state) {
    return new StateChange(Recipes.START_US + second * 1_000_000L, state, false);
  }

  @Test
  void whatIsNotNearAMotionOrASilenceIsMistaken() {
    Recipe recipe = recipe(List.of(motion(1000)), List.of(new Span(2000, 2010)));
    List<StateChange> timeline = disturbedFrom(500, 1002, 2005, 3000);
    assertThat(MotionScore.of(recipe, timeline)).isEqualTo(new MotionScore(1, 1, 2));
  }

  @Test
  void aMotionWithoutDisturbedIsMissed() {
    Recipe recipe = recipe(List.of(motion(1000), motion(2000)), List.of());
    assertThat(MotionScore.of(recipe, disturbedFrom(2003))).isEqualTo(new MotionScore(2, 1, 0));
  }

  @Test
  void oneInWhichItWasStillDisturbedByTheOneBeforeIsSeen() {
    Recipe recipe = recipe(List.of(motion(1000), motion(1030)), List.of());
    assertThat(MotionScore.of(recipe, disturbedFrom(1001))).isEqualTo(new MotionScore(2, 2, 0));
  }

  @Test
  void oneThatNoLinesShowIsNotAsked() {
    Recipe recipe = recipe(List.of(motion(10), motion(1000)), List.of(new Span(999, 1004)));
    assertThat(MotionScore.of(recipe, List.of())).isEqualTo(new MotionScore(0, 0, 0));
  }
}
