package soakbench.demo;

import java.util.List;
import java.util.SplittableRandom;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.RecipeGenerator;
import soakbench.demo.unit.Span;
import soakbench.model.Tracker;

/**
 * One tracker's soaks in the demo: first one that is scripted, then random ones, each from cold,
 * after a rest long enough to end the soak before.
 *
 * @param tracker how the roster knows it
 * @param first the scripted soak
 * @param cableSlips whether its cable comes out in every soak
 */
record DemoTracker(Tracker tracker, DemoSoak first, boolean cableSlips) {
  /** Off the rack between two soaks, s. Silence over 600 s ends a soak. */
  private static final double REST_S = 900;

  /**
   * The soak of a round.
   *
   * @param round 0 for the first
   * @param endUs when the soak before ended, microseconds since 1970
   */
  DemoSoak soak(int round, long endUs) {
    if (round == 0) {
      return first;
    }
    Recipe scripted = first.recipe();
    SplittableRandom random = new SplittableRandom(scripted.run().seed() + round);
    double durationS = Math.rint(random.nextDouble(4200, 7200));
    Recipe recipe =
        RecipeGenerator.recipe(
            scripted.unit(),
            Mix.USUAL,
            endUs + Math.round(REST_S * 1e6),
            durationS,
            scripted.stream().rateHz(),
            random.nextLong());
    return cableSlips ? new DemoSoak(recipe, List.of(new Span(1000, 1540))) : new DemoSoak(recipe);
  }
}
