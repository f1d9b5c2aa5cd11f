package soakbench.lots.compare;

import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/** What is said of units that need a decision. */
final class ScreeningWords {
  private ScreeningWords() {}

  /** Whom to reject and whom to look at again, by name; nothing where all are accepted. */
  static List<String> of(Map<String, Screening> units) {
    List<String> reject = named(units, Screening.Verdict.REJECT);
    List<String> again = named(units, Screening.Verdict.LOOK_AGAIN);
    List<String> parts = new ArrayList<>();
    if (!reject.isEmpty()) {
      parts.add("reject " + Counts.some(reject));
    }
    if (!again.isEmpty()) {
      parts.add("give " + Counts.some(again) + " one more soak");
    }
    return parts.isEmpty() ? List.of() : List.of(String.join("; ", parts));
  }

  private static List<String> named(Map<String, Screening> units, Screening.Verdict verdict) {
    return units.entrySet().stream()
        .filter(e -> e.getValue().verdict() == verdict)
        .map(Map.Entry::getKey)
        .toList();
  }
}
