package soakbench.lines;

import com.google.re2j.Matcher;
import com.google.re2j.Pattern;
import java.nio.charset.StandardCharsets;
import java.util.List;
import soakbench.lines.Rejection.Kind;

/** Lines by a pattern of the user's own. Not thread-safe. */
final class PatternLineForm {
  private static final Rejection CHATTER =
      new Rejection(Kind.CHATTER, "text that the pattern does not match");

  /** Two lines run together, or a pattern that is not written to its end. */
  private static final Rejection IN_PART =
      new Rejection(
          Kind.CHATTER,
          "the pattern fits a part of the line only; write .* where anything may stand");

  private final Pattern pattern;
  private final List<Group> groups;
  private final ReadingDraft draft = new ReadingDraft();

  private record Group(int number, Column column, double scale, double offset) {}

  PatternLineForm(PatternSpec spec) {
    pattern = spec.compiled();
    groups =
        pattern.namedGroups().entrySet().stream()
            .map(group -> group(group.getKey(), group.getValue(), spec))
            .toList();
  }

  private static Group group(String name, int number, PatternSpec spec) {
    double scale = spec.scale().getOrDefault(name, 1.0);
    double offset = spec.offset().getOrDefault(name, 0.0);
    return new Group(number, PatternSpec.column(name), scale, offset);
  }

  LineResult parse(byte[] line, int offset, int length) {
    Matcher match = pattern.matcher(new String(line, offset, length, StandardCharsets.UTF_8));
    if (!match.matches()) {
      return match.reset().find() ? IN_PART : CHATTER;
    }
    draft.clear();
    for (Group group : groups) {
      String text = match.group(group.number);
      if (text != null && !text.isBlank()) {
        take(group, text.strip());
      }
    }
    return draft.finish();
  }

  private void take(Group group, String text) {
    if (group.column.isText()) {
      draft.text(group.column, text);
    } else {
      double value = number(group.column, text);
      draft.number(group.column, value * group.scale + group.offset);
    }
  }

  /** The number; what says that it is none is absurd, anything else makes the line malformed. */
  private double number(Column column, String text) {
    Double number = Decimal.of(text);
    if (number == null) {
      String shown = "\"" + Printable.of(text, 40) + "\"";
      draft.reject(Kind.MALFORMED, column.label() + " " + shown + " is not a number");
      return 0;
    }
    return number;
  }
}
