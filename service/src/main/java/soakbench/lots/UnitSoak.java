package soakbench.lots;

import java.util.Comparator;
import java.util.List;
import soakbench.model.Soak;

/**
 * One soak of a unit with its figures.
 *
 * @param leftOut why people left it out of the unit's figures; null where it counts
 */
public record UnitSoak(Soak soak, SoakFigures figures, String leftOut) {

  /** Those of a unit's soaks that were not left out of its figures, the newest first. */
  public static List<UnitSoak> counted(List<UnitSoak> soaks) {
    return newestFirst(soaks).stream().filter(s -> s.leftOut == null).toList();
  }

  static List<UnitSoak> newestFirst(List<UnitSoak> soaks) {
    return soaks.stream()
        .sorted(Comparator.comparingLong((UnitSoak s) -> s.soak.startUs()).reversed())
        .toList();
  }
}
