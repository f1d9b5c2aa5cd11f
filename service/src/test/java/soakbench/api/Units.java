package soakbench.api;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.Comparator;

/** The units in which names end, as the description lists them in {@code x-units}. */
final class Units {
  private static final JsonNode KNOWN = Described.ALL.at("/info/x-units");

  private Units() {}

  /** The unit of what has this name, by its longest known ending; empty where it has none. */
  static String of(String name) {
    return KNOWN.properties().stream()
        .filter(unit -> ("_" + name).endsWith("_" + unit.getKey()))
        .max(Comparator.comparingInt(unit -> unit.getKey().length()))
        .map(unit -> unit.getValue().asText())
        .orElse("");
  }
}
