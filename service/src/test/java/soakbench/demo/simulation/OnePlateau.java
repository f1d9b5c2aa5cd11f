package soakbench.demo.simulation;

import java.util.List;

/** Which simulated runs head for one plateau all along. */
public final class OnePlateau {
  private OnePlateau() {}

  /**
   * Where the room drifts or the sun shines there is no such plateau, and none to be right about.
   */
  public static boolean has(Recipe recipe) {
    List<String> scenarios = recipe.origin().scenarios();
    return !scenarios.contains(Trouble.ROOM_DRIFT.word())
        && !scenarios.contains(Trouble.SUN.word());
  }
}
