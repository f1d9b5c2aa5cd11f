package soakbench.ingest.rackfile;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import java.util.stream.Stream;
import soakbench.lines.LineParser;

/** Reads the key {@code listen} of a rack file. */
final class ListenKeys {
  private static final List<String> KEYS =
      Stream.concat(Stream.of("udp", "tcp", "columns", "ask"), PatternKeys.NAMES.stream()).toList();

  private final FileProblems problems;

  ListenKeys(FileProblems problems) {
    this.problems = problems;
  }

  /** What is set there; {@link ListenSettings#NONE} where there is nothing. */
  ListenSettings read(String where, JsonNode node) {
    if (FileProblems.isLacking(node)) {
      return ListenSettings.NONE;
    }
    String inside = where + ", listen";
    if (!node.isObject()) {
      problems.add(where, "listen must be like \"listen: {udp: 127.0.0.1:9750}\"");
      return ListenSettings.NONE;
    }
    problems.checkKeys(inside, node, KEYS);
    ListenSettings settings =
        new ListenSettings(
            address(inside, "udp", node.path("udp")),
            address(inside, "tcp", node.path("tcp")),
            new LineSettings(
                null,
                columns(inside, node.path("columns")),
                PatternKeys.read(inside, node, problems)),
            new AskKeys(problems).read(inside, node.path("ask")));
    check(inside, node, settings);
    return settings;
  }

  private void check(String where, JsonNode node, ListenSettings settings) {
    if (!node.has("udp") && !node.has("tcp")) {
      problems.add(where, "set udp, tcp or both to an address like 127.0.0.1:9750");
    }
    if (settings.tcp() == null && !settings.ask().isNothing()) {
      problems.add(where, "ask needs tcp: over UDP nothing is ever sent");
    }
  }

  private ListenAddress address(String where, String key, JsonNode node) {
    if (FileProblems.isLacking(node)) {
      return null;
    }
    try {
      return ListenAddress.of(node.asText());
    } catch (IllegalArgumentException e) {
      problems.add(where, key + " " + e.getMessage());
      return null;
    }
  }

  private String columns(String where, JsonNode node) {
    if (FileProblems.isLacking(node)) {
      return null;
    }
    if (!LineParser.isHeader(node.asText())) {
      problems.add(where, "columns must be text like \"id,t_ms,temp_c,gx_dps,gy_dps,gz_dps\"");
      return null;
    }
    return node.asText();
  }
}
