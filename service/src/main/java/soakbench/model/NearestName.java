package soakbench.model;

import java.util.Collection;
import java.util.Comparator;
import java.util.Locale;
import java.util.Optional;

/** Guesses which known name was meant by a misspelt one. */
public final class NearestName {
  private static final int SHORTEST_BEGINNING = 3;

  private NearestName() {}

  /**
   * The known name with the fewest letters to change, if that is few enough to be a slip: up to a
   * third of the longer name, or one begins with the other. Upper and lower case, blanks, {@code -}
   * and {@code _} count as the same.
   */
  public static Optional<String> to(String name, Collection<String> known) {
    return known.stream()
        .filter(candidate -> isNear(name, candidate))
        .min(Comparator.comparingInt(candidate -> distance(name, candidate)));
  }

  /** "; did you mean \"slots\"?", or nothing where no known name is near. */
  public static String hint(String name, Collection<String> known) {
    return to(name, known).map(near -> "; did you mean \"" + near + "\"?").orElse("");
  }

  private static boolean isNear(String name, String candidate) {
    int allowed = Math.max(1, Math.max(name.length(), candidate.length()) / 3);
    return distance(name, candidate) <= allowed || begins(name, candidate);
  }

  private static boolean begins(String name, String candidate) {
    String a = plain(name);
    String b = plain(candidate);
    return Math.min(a.length(), b.length()) >= SHORTEST_BEGINNING
        && (a.startsWith(b) || b.startsWith(a));
  }

  /** Insertions, deletions, replacements and swaps of neighbours that turn one into the other. */
  private static int distance(String one, String other) {
    String a = plain(one);
    String b = plain(other);
    int[][] cost = new int[a.length() + 1][b.length() + 1];
    for (int i = 0; i <= a.length(); i++) {
      for (int j = 0; j <= b.length(); j++) {
        cost[i][j] = i == 0 || j == 0 ? i + j : cheapest(cost, a, b, i, j);
      }
    }
    return cost[a.length()][b.length()];
  }

  private static int cheapest(int[][] cost, String a, String b, int i, int j) {
    int replaced = cost[i - 1][j - 1] + (a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1);
    int best = Math.min(replaced, Math.min(cost[i - 1][j], cost[i][j - 1]) + 1);
    boolean swapped =
        i > 1 && j > 1 && a.charAt(i - 1) == b.charAt(j - 2) && a.charAt(i - 2) == b.charAt(j - 1);
    return swapped ? Math.min(best, cost[i - 2][j - 2] + 1) : best;
  }

  private static String plain(String name) {
    return name.toLowerCase(Locale.ROOT).replaceAll("[-_\\s]", "");
  }
}
