package soakbench.demo;

import java.util.List;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Span;

/**
 * One soak of one tracker in the demo.
 *
 * @param recipe what its tracker does
 * @param pulled when its cable is out, seconds since the recipe's start
 */
record DemoSoak(Recipe recipe, List<Span> pulled) {
  DemoSoak {
    pulled = List.copyOf(pulled);
  }

  DemoSoak(Recipe recipe) {
    this(recipe, List.of());
  }

  long endUs() {
    return recipe.startUs() + Math.round(recipe.durationS() * 1e6);
  }

  boolean pulledAt(long timeUs) {
    double timeS = (timeUs - recipe.startUs()) / 1e6;
    return pulled.stream().anyMatch(span -> span.holds(timeS));
  }
}
