package soakbench.api;

import java.util.Collection;
import java.util.Comparator;
import java.util.Optional;

/** Finds what a misspelt word was meant to be. */
final class NearestWord {
  private NearestWord() {}

  /** The known word that is nearest, if one is near: at most a third of its letters differ. */
  static Optional<String> of(String word, Collection<String> known) {
    return known.stream()
        .min(Comparator.comparingInt(k -> distance(word, k)))
        .filter(k -> distance(word, k) <= Math.max(2, k.length() / 3));
  }

  /** {@code ; did you mean "x"?}, or the whole list where nothing is near. */
  static String hint(String word, Collection<String> known) {
    return of(word, known)
        .map(near -> "; did you mean \"" + near + "\"?")
        .orElse("; known are " + String.join(", ", known) + ".");
  }

  /** Levenshtein's distance: insertions, deletions and replacements, each costing one. */
  private static int distance(String a, String b) {
    int[] row = new int[b.length() + 1];
    for (int j = 0; j <= b.length(); j++) {
      row[j] = j;
    }
    for (int i = 1; i <= a.length(); i++) {
      int diagonal = row[0];
      row[0] = i;
      for (int j = 1; j <= b.length(); j++) {
        int replaced = diagonal + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
        diagonal = row[j];
        row[j] = Math.min(replaced, Math.min(row[j], row[j - 1]) + 1);
      }
    }
    return row[b.length()];
  }
}
