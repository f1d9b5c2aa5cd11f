package soakbench.lines;

import com.google.re2j.Pattern;
import com.google.re2j.PatternSyntaxException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Stream;
import soakbench.model.NearestName;

/**
 * A line form of the user's own, for firmware that already prints numbers: a regular expression
 * whose named groups are our columns. What a numeric group holds is multiplied by its scale, then
 * its offset is added; the result is in the column's unit.
 *
 * <p>The expressions are those of RE2, which match in time linear in the line, so no pattern can
 * run away; its length and the size that its counted repeats blow it up to are bounded too.
 *
 * @param pattern the expression; the whole line must fit
 * @param scale by column name; 1 where none is given
 * @param offset by column name; 0 where none is given
 */
public record PatternSpec(String pattern, Map<String, Double> scale, Map<String, Double> offset) {
  /** Longest pattern, characters: some thousand brackets in each other would overflow the stack. */
  static final int LONGEST = 1000;

  /** Most parts after writing out counted repeats, by an estimate that is often too large. */
  static final int LARGEST = 50_000;

  /** Most steps of the compiled pattern: what a byte of a line costs grows with them. */
  private static final int MOST_STEPS = 2000;

  private static final String TOO_LARGE =
      "the pattern's counted repeats make it too large; use + or * instead of large counts";

  /**
   * @throws IllegalArgumentException if it can't be used, with everything that is wrong with it
   */
  public PatternSpec {
    scale = Map.copyOf(scale);
    offset = Map.copyOf(offset);
    List<String> problems = problems(pattern, scale, offset);
    if (!problems.isEmpty()) {
      throw new IllegalArgumentException(String.join("; ", problems));
    }
  }

  Pattern compiled() {
    return Pattern.compile(pattern);
  }

  private static List<String> problems(
      String pattern, Map<String, Double> scale, Map<String, Double> offset) {
    if (pattern.length() > LONGEST) {
      return List.of("the pattern has " + pattern.length() + " characters, at most " + LONGEST);
    }
    if (PatternSize.of(pattern) > LARGEST) {
      return List.of(TOO_LARGE);
    }
    try {
      Pattern compiled = Pattern.compile(pattern);
      return compiled.programSize() > MOST_STEPS
          ? List.of(TOO_LARGE)
          : columnProblems(compiled.namedGroups().keySet(), scale, offset);
    } catch (PatternSyntaxException e) {
      return List.of(syntax(e));
    }
  }

  private static String syntax(PatternSyntaxException e) {
    // The library's only words for a bracket too many.
    boolean unopened = e.getDescription().contains("internal error");
    String why =
        unopened ? "a ) has no (" : e.getDescription() + " (near \"" + e.getPattern() + "\")";
    return "the pattern can't be read: "
        + why
        + "; RE2's expressions don't look ahead or behind, nor refer back to a group";
  }

  private static List<String> columnProblems(
      Set<String> groups, Map<String, Double> scale, Map<String, Double> offset) {
    List<String> problems = new ArrayList<>();
    for (String name : new TreeSet<>(groups)) {
      if (column(name) == null) {
        List<String> columns = Stream.of(Column.values()).map(Column::label).toList();
        problems.add("group \"" + name + "\" is no column" + NearestName.hint(name, columns));
      }
    }
    if (!groups.contains(Column.TEMP_C.label())
        && !groups.contains(Column.GX_DPS.label())
        && !groups.contains(Column.GX_RADS.label())) {
      problems.add("no group is a temperature or rates; name one like (?<temp_c>[-0-9.]+)");
    }
    factorProblems("scale", scale.keySet(), groups, problems);
    factorProblems("offset", offset.keySet(), groups, problems);
    if (scale.containsValue(0.0)) {
      problems.add("a scale of 0 makes every reading the same");
    }
    return problems;
  }

  private static void factorProblems(
      String what, Set<String> names, Set<String> groups, List<String> problems) {
    for (String name : names) {
      if (!groups.contains(name)) {
        problems.add(what + " \"" + name + "\" is for no group of the pattern");
      }
    }
  }

  static Column column(String name) {
    byte[] ascii = name.getBytes(StandardCharsets.UTF_8);
    return Column.named(ascii, 0, ascii.length);
  }
}
