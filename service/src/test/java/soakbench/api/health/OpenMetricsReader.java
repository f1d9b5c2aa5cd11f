package soakbench.api.health;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Reads an exposition strictly, as the OpenMetrics 1.0 specification has it (its sections "Text
 * Format" and "Overall Structure"): one block a family with TYPE, UNIT and HELP at most once and
 * before its samples, suffixes by type, the unit as the name's ending, no sample twice, {@code #
 * EOF} and nothing behind it.
 */
final class OpenMetricsReader {
  private static final String NAME = "[a-zA-Z_:][a-zA-Z0-9_:]*";
  private static final String LABEL = "[a-zA-Z_][a-zA-Z0-9_]*=\"(?:[^\"\\\\\\n]|\\\\[n\"\\\\])*\"";
  private static final Pattern META = Pattern.compile("# (TYPE|UNIT|HELP) (" + NAME + ") (.*)");
  private static final Pattern SAMPLE =
      Pattern.compile(
          "(" + NAME + ")(\\{(?:" + LABEL + "(?:," + LABEL + ")*)?})? (NaN|[+-]Inf|[-+0-9.eE]+)");
  private static final Map<String, Set<String>> SUFFIXES =
      Map.of(
          "gauge", Set.of(""),
          "counter", Set.of("_total", "_created"),
          "info", Set.of("_info"),
          "summary", Set.of("", "_count", "_sum", "_created"),
          "unknown", Set.of(""));

  private final Map<String, Double> samples = new LinkedHashMap<>();
  private final Map<String, String> types = new LinkedHashMap<>();
  private final Map<String, String> helps = new LinkedHashMap<>();
  private final Set<String> closed = new HashSet<>();
  private final Set<String> told = new HashSet<>();
  private String family = "";

  /** Every sample by name and labels. */
  static OpenMetricsReader read(String text) {
    assertThat(text).endsWith("# EOF\n").doesNotContain("\r");
    OpenMetricsReader reader = new OpenMetricsReader();
    String[] lines = text.substring(0, text.length() - "# EOF\n".length()).split("\n");
    for (String line : lines) {
      assertThat(line).isNotEmpty();
      reader.line(line);
    }
    return reader;
  }

  private void line(String line) {
    Matcher meta = META.matcher(line);
    if (meta.matches()) {
      enter(meta.group(2));
      assertThat(told.add(meta.group(1) + " " + family)).as("once: " + line).isTrue();
      assertThat(samples.keySet()).as(line).noneMatch(s -> s.startsWith(family + "{"));
      if (meta.group(1).equals("TYPE")) {
        types.put(family, meta.group(3));
      } else if (meta.group(1).equals("UNIT")) {
        assertThat(family).endsWith("_" + meta.group(3));
      } else {
        helps.put(family, meta.group(3));
      }
      return;
    }
    Matcher sample = SAMPLE.matcher(line);
    assertThat(sample.matches()).as("a sample: " + line).isTrue();
    assertThat(sample.group(1)).as("within its family's block").startsWith(family);
    String suffix = sample.group(1).substring(family.length());
    assertThat(SUFFIXES.get(types.get(family))).as(line).contains(suffix);
    String key = sample.group(1) + (sample.group(2) == null ? "" : sample.group(2));
    assertThat(samples.put(key, number(sample.group(3)))).as("once: " + line).isNull();
  }

  private void enter(String name) {
    if (!name.equals(family)) {
      closed.add(family);
      assertThat(closed).as("families are not interleaved").doesNotContain(name);
      family = name;
    }
  }

  private static double number(String text) {
    return switch (text) {
      case "+Inf" -> Double.POSITIVE_INFINITY;
      case "-Inf" -> Double.NEGATIVE_INFINITY;
      default -> Double.parseDouble(text);
    };
  }

  /** The value of a sample; fails where there is none. */
  double value(String sample) {
    assertThat(samples).containsKey(sample);
    return samples.get(sample);
  }

  Set<String> samples() {
    return samples.keySet();
  }

  /** Families of ours that have no help. */
  Set<String> withoutHelp() {
    Set<String> without = new HashSet<>(types.keySet());
    without.removeIf(f -> !f.startsWith("soakbench_") || helps.containsKey(f));
    return without;
  }
}
