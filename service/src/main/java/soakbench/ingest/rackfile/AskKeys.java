package soakbench.ingest.rackfile;

import com.fasterxml.jackson.databind.JsonNode;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.stream.Stream;
import soakbench.ingest.rackfile.AskSettings.Newline;

/** Reads the key {@code ask} of a source. */
final class AskKeys {
  private static final List<String> KEYS =
      List.of("after_open", "after_boot", "every_s", "newline");
  private static final int MOST_TEXTS = 16;
  private static final int LONGEST_BYTES = 256;
  private static final int LONGEST_S = 86_400;

  private final FileProblems problems;

  AskKeys(FileProblems problems) {
    this.problems = problems;
  }

  /** The settings of this node; {@link AskSettings#NONE} where there is none. */
  AskSettings read(String where, JsonNode node) {
    if (FileProblems.isLacking(node)) {
      return AskSettings.NONE;
    }
    if (!node.isObject()) {
      problems.add(where, "ask must be like \"ask: {after_open: [start]}\"");
      return AskSettings.NONE;
    }
    String inside = where + ", ask";
    problems.checkKeys(inside, node, KEYS);
    AskSettings ask =
        new AskSettings(
            texts(inside, "after_open", node.path("after_open")),
            texts(inside, "after_boot", node.path("after_boot")),
            everyS(inside, node.path("every_s")),
            newline(inside, node.path("newline")));
    if (ask.everyS() > 0 && ask.afterOpen().isEmpty()) {
      problems.add(inside, "every_s repeats the texts of after_open; name at least one there");
    }
    return ask;
  }

  private List<String> texts(String where, String key, JsonNode node) {
    List<String> texts = new ArrayList<>();
    if (FileProblems.isLacking(node)) {
      return texts;
    }
    if (!node.isArray() || node.size() > MOST_TEXTS) {
      problems.add(where, key + " must be a list of at most " + MOST_TEXTS + " texts like [start]");
      return texts;
    }
    node.forEach(text -> texts.add(text(where, key, text)));
    return texts;
  }

  private String text(String where, String key, JsonNode node) {
    int size = node.asText().getBytes(StandardCharsets.UTF_8).length;
    if (!node.isValueNode() || node.isNull() || size > LONGEST_BYTES) {
      String found = node.isValueNode() && !node.isNull() ? "of " + size + " bytes" : "like that";
      problems.add(
          where, key + " can't send a text " + found + "; at most " + LONGEST_BYTES + " bytes");
      return "";
    }
    return node.asText();
  }

  private int everyS(String where, JsonNode node) {
    if (FileProblems.isLacking(node)) {
      return 0;
    }
    if (!node.isInt() || node.intValue() < 1 || node.intValue() > LONGEST_S) {
      String range = " is not a whole number of seconds from 1 to " + LONGEST_S;
      problems.add(where, "every_s " + node.asText() + range);
      return 0;
    }
    return node.intValue();
  }

  private Newline newline(String where, JsonNode node) {
    String name = FileProblems.isLacking(node) ? "lf" : node.asText();
    return Stream.of(Newline.values())
        .filter(newline -> newline.name().toLowerCase(Locale.ROOT).equals(name))
        .findFirst()
        .orElseGet(
            () -> {
              problems.add(where, "newline " + name + " must be lf, crlf, cr or none");
              return Newline.LF;
            });
  }
}
