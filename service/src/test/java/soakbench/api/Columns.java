package soakbench.api;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.Stream;

/** The columns of the CSV tables as the description lists them in {@code x-columns}. */
final class Columns {
  private static final JsonNode TABLES = Described.ALL.at("/components/x-columns");
  private static final List<String> AXES = List.of("x", "y", "z");
  private static final List<String> PARTS = List.of("", "_se", "_low", "_high");

  private Columns() {}

  /** What a column is: its own words, else the member of that name; null where there is none. */
  static JsonNode described(String table, String column) {
    JsonNode of = TABLES.path(table);
    JsonNode words = of.path("columns").path(column);
    if (words.isObject()) {
      return schema(words.get("estimate").asText());
    }
    return words.isTextual()
        ? schema(words.asText())
        : Described.ALL
            .at("/components/schemas/" + of.path("row").asText() + "/properties")
            .get(column);
  }

  private static JsonNode schema(String words) {
    return soakbench.api.http.Json.mapper().createObjectNode().put("description", words);
  }

  /** All columns as members, to be held to the same rules. */
  static List<Described.Named> all() {
    return TABLES.properties().stream()
        .flatMap(
            table ->
                names(table.getKey())
                    .map(
                        name ->
                            new Described.Named(
                                "column of " + table.getKey(),
                                name,
                                described(table.getKey(), name))))
        .toList();
  }

  private static Stream<String> names(String table) {
    return TABLES.path(table).path("columns").properties().stream().map(Map.Entry::getKey);
  }

  /** The names in the header of a table, in no order. */
  static Set<String> header(String table) {
    Set<String> header = new LinkedHashSet<>();
    names(table)
        .forEach(
            name -> {
              for (String part : isEstimate(table, name) ? PARTS : List.of("")) {
                each(name).forEach(column -> header.add(column + part));
              }
            });
    return header;
  }

  private static boolean isEstimate(String table, String name) {
    return TABLES.path(table).path("columns").path(name).isObject()
        || Described.refersTo(described(table, name), "Estimate");
  }

  private static List<String> each(String name) {
    return name.contains("{axis}")
        ? AXES.stream().map(axis -> name.replace("{axis}", axis)).toList()
        : List.of(name);
  }
}
