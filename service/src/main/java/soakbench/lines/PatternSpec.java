package soakbench.lines;

import com.google.re2j.Pattern;
import com.google.re2j.PatternSyntaxException;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.EnumSet;
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
  /** Longest pattern, characters. */
  public static final int LONGEST = 1000;

  /** Most parts after writing out counted repeats, by an estimate that is often too large. */
  static final int LARGEST = 50_000;

  /** Most steps of the compiled pattern. */
  private static final int MOST_STEPS = 2000;

  /**
   * @throws PatternException if it can't be used, with everything that is wrong with it
   */
  public PatternSpec {
    scale = Map.copyOf(scale);
    offset = Map.copyOf(offset);
    List<String> problems = problems(pattern, scale, offset);
    if (!problems.isEmpty()) {
      throw new PatternException(problems);
    }
  }

  private static final String TOO_LARGE =
      "the pattern's counted repeats make it too large; use + or * instead of large counts";

  /** The names that its groups may have. */
  public static List<String> names() {
    return Stream.of(Column.values()).map(Column::label).toList();
  }

  Pattern compiled() {
    return Pattern.compile(pattern);
  }

  private static List<String> problems(
      String pattern, Map<String, Double> scale, Map<String, Double> offset) {
    if (pattern.length() > LONGEST) {
      return List.of("the pattern has " + pattern.length() + " characters, at most " + LONGEST);
    }
    if (pattern.contains("\\Q")) {
      // Between its signs nothing may stand, and a count after it would be of what stood before.
      return List.of("the pattern quotes by \\Q; write a backslash before each sign instead");
    }
    if (PatternSize.of(pattern) > LARGEST) {
      return List.of(TOO_LARGE);
    }
    Map<String, Integer> groups;
    try {
      Pattern compiled = Pattern.compile(pattern);
      if (compiled.programSize() > MOST_STEPS) {
        return List.of(TOO_LARGE);
      }
      groups = compiled.namedGroups();
    } catch (PatternSyntaxException e) {
      return List.of(syntax(pattern, e));
    }
    List<String> problems = new ArrayList<>();
    groupProblems(groups.keySet(), problems);
    factorProblems("scale", scale, groups.keySet(), problems);
    factorProblems("offset", offset, groups.keySet(), problems);
    return problems;
  }

  private static String syntax(String pattern, PatternSyntaxException e) {
    boolean looksAround = pattern.contains("(?=") || pattern.contains("(?!");
    boolean behind = pattern.contains("(?<=") || pattern.contains("(?<!");
    boolean refersBack = e.getDescription().contains("escape") && pattern.matches(".*\\\\[1-9].*");
    String why =
        looksAround || behind
            ? "looking ahead or behind is not possible"
            : refersBack ? "referring back to a group is not possible" : worded(e.getDescription());
    return "the pattern can't be read: " + why + " (near \"" + e.getPattern() + "\")";
  }

  /** The commonest of the library's reasons in our words. */
  private static String worded(String description) {
    return switch (description) {
      case "missing closing )" -> "a ( has no )";
      case "unexpected )", "unexpected ): " -> "a ) has no (";
      case "missing closing ]" -> "a [ has no ]";
      case "missing argument to repetition operator" -> "nothing stands before a *, + or ?";
      case "invalid nested repetition operator" -> "two of *, + or ? follow each other";
      case "invalid repeat count" -> "a repeat counts beyond 1000 or backwards";
      case "trailing backslash at end of expression" -> "it ends with a backslash";
      case "invalid escape sequence" -> "a backslash stands before what it can't";
      case "invalid character class range" -> "a range in [ ] runs backwards";
      case "invalid named capture" -> "a group's name is not letters, digits and _";
      default -> description;
    };
  }

  private static void groupProblems(Set<String> groups, List<String> problems) {
    Set<Channel> filled = EnumSet.noneOf(Channel.class);
    for (String name : new TreeSet<>(groups)) {
      Column column = column(name);
      if (column == null) {
        problems.add("group \"" + name + "\" is no column" + NearestName.hint(name, names()));
      } else if (column.channel() != null && !filled.add(column.channel())) {
        problems.add("group \"" + name + "\" fills a channel that another group fills already");
      }
    }
    allOrNone(filled, Channel.GX, "rates", problems);
    allOrNone(filled, Channel.AX, "acceleration", problems);
    if (!filled.contains(Channel.TEMPERATURE) && !filled.contains(Channel.GX)) {
      problems.add("no group is a temperature or rates; name one like (?<temp_c>[-0-9.]+)");
    }
  }

  private static void allOrNone(
      Set<Channel> filled, Channel x, String what, List<String> problems) {
    long given =
        Stream.of(0, 1, 2)
            .filter(axis -> filled.contains(Channel.values()[x.ordinal() + axis]))
            .count();
    if (given % 3 != 0) {
      problems.add(given + " of 3 axes of " + what + " have a group; name all three or none");
    }
  }

  private static void factorProblems(
      String what, Map<String, Double> factors, Set<String> groups, List<String> problems) {
    factors.forEach(
        (name, value) -> {
          Column column = column(name);
          if (!groups.contains(name)) {
            problems.add(what + " \"" + name + "\" is for no group of the pattern");
          } else if (column != null && column.isText()) {
            problems.add(what + " \"" + name + "\": that column is text");
          }
          boolean useless = !Double.isFinite(value) || what.equals("scale") && value == 0;
          if (useless) {
            problems.add(
                what + " \"" + name + "\" is " + value + "; it must be a number" + not0(what));
          }
        });
  }

  private static String not0(String what) {
    return what.equals("scale") ? " other than 0" : "";
  }

  static Column column(String name) {
    byte[] ascii = name.getBytes(StandardCharsets.UTF_8);
    return Column.named(ascii, 0, ascii.length);
  }
}
