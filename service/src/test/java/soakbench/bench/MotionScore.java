package soakbench.bench;

import java.util.ArrayList;
import java.util.List;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Span;
import soakbench.model.State;
import soakbench.model.StateChange;

/**
 * One simulated tracker's times as disturbed held against when it was moved.
 *
 * @param motions that lines could show: begun half a minute after the first, no gap beside them
 * @param seen those of them in or just after which it stood as disturbed
 * @param mistaken times at which it was called so though neither moved, silent nor off
 */
record MotionScore(int motions, int seen, int mistaken) {
  private static final double UNTIL_FIRST_S = 30;

  static MotionScore of(Recipe recipe, List<StateChange> timeline) {
    List<Span> disturbed = disturbed(recipe, timeline);
    List<Span> moved =
        recipe.events().motions().stream().map(m -> new Span(m.fromS(), m.toS())).toList();
    List<Span> silent = new ArrayList<>(recipe.events().powerOffs());
    silent.addAll(recipe.events().gaps());
    List<Span> shown = moved.stream().filter(m -> shows(recipe, m, silent)).toList();
    long seen =
        shown.stream().filter(m -> !near(disturbed, m.fromS() - 2, m.toS() + 6).isEmpty()).count();
    long mistaken =
        disturbed.stream()
            .filter(d -> near(moved, d.fromS() - 8, d.fromS() + 3).isEmpty())
            .filter(d -> near(silent, d.fromS() - 8, d.fromS() + 3).isEmpty())
            .count();
    return new MotionScore(shown.size(), (int) seen, (int) mistaken);
  }

  private static boolean shows(Recipe recipe, Span motion, List<Span> silent) {
    return motion.fromS() > recipe.stream().firstS() + UNTIL_FIRST_S
        && near(silent, motion.fromS() - 5, motion.toS() + 5).isEmpty();
  }

  private static List<Span> disturbed(Recipe recipe, List<StateChange> timeline) {
    List<Span> out = new ArrayList<>();
    for (int i = 0; i < timeline.size(); i++) {
      if (timeline.get(i).state() == State.DISTURBED) {
        double fromS = (timeline.get(i).timeUs() - recipe.startUs()) / 1e6;
        double toS =
            i + 1 < timeline.size()
                ? (timeline.get(i + 1).timeUs() - recipe.startUs()) / 1e6
                : recipe.durationS();
        out.add(new Span(fromS, toS));
      }
    }
    return out;
  }

  private static List<Span> near(List<Span> spans, double fromS, double toS) {
    return spans.stream().filter(s -> s.fromS() <= toS && s.toS() >= fromS).toList();
  }
}
