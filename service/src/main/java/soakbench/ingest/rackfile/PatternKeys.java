package soakbench.ingest.rackfile;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import soakbench.lines.PatternSpec;

/** The keys of a rack file that set a source's own line form. */
final class PatternKeys {
  static final List<String> NAMES = List.of("pattern", "scale", "offset");

  private PatternKeys() {}

  /**
   * The line form that a source sets.
   *
   * @param where the source, as problems begin
   * @param problems gets what is wrong
   * @return null where none is set or something is wrong
   */
  static PatternSpec read(String where, JsonNode source, FileProblems problems) {
    Map<String, Double> scale = numbers(where, "scale", source.path("scale"), problems);
    Map<String, Double> offset = numbers(where, "offset", source.path("offset"), problems);
    JsonNode pattern = source.path("pattern");
    if (pattern.isMissingNode() || pattern.isNull()) {
      if (!scale.isEmpty() || !offset.isEmpty()) {
        problems.add(where, "scale and offset need a pattern");
      }
      return null;
    }
    try {
      return new PatternSpec(pattern.asText(), scale, offset);
    } catch (IllegalArgumentException e) {
      problems.add(where, e.getMessage());
      return null;
    }
  }

  private static Map<String, Double> numbers(
      String where, String key, JsonNode node, FileProblems problems) {
    Map<String, Double> numbers = new HashMap<>();
    node.fields()
        .forEachRemaining(one -> numbers.put(one.getKey(), one.getValue().asDouble(Double.NaN)));
    boolean isMap = node.isObject() || node.isMissingNode() || node.isNull();
    if (!isMap || numbers.containsValue(Double.NaN)) {
      problems.add(where, key + " must be like \"" + key + ": {temp_c: 0.01}\", not " + node);
    }
    return numbers;
  }
}
