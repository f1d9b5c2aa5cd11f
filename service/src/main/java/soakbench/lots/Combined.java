package soakbench.lots;

import java.util.List;
import java.util.function.Function;
import soakbench.model.Estimate;

/** One figure of several soaks. */
final class Combined {
  private Combined() {}

  /** One soak's figure as it is; several by the random-effects model; none with its reason. */
  static <T> Estimate of(List<T> newestFirst, Function<T, Estimate> figure) {
    List<Part> measured =
        newestFirst.stream()
            .map(figure)
            .filter(e -> e.known() && e.se() != null && e.se() > 0)
            .map(Part::of)
            .toList();
    return measured.size() < 2
        ? newestKnown(newestFirst, figure)
        : RandomEffects.of(measured).estimate();
  }

  /** The newest soak's that is known; where none is, the newest's reason. */
  static <T> Estimate newestKnown(List<T> newestFirst, Function<T, Estimate> figure) {
    return newestFirst.stream()
        .map(figure)
        .filter(Estimate::known)
        .findFirst()
        .orElseGet(() -> figure.apply(newestFirst.get(0)));
  }
}
