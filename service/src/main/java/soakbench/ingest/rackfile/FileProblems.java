package soakbench.ingest.rackfile;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import soakbench.model.NearestName;

/** Gathers all that is wrong with a rack file, and what may stand in it once only. */
final class FileProblems {
  private final List<String> problems = new ArrayList<>();
  private final Map<String, String> taken = new HashMap<>();

  void add(String where, String what) {
    problems.add(where + ": " + what);
  }

  List<String> all() {
    return List.copyOf(problems);
  }

  /** Notes that this slot has set this; a problem where another slot has set the same. */
  void once(String where, String slot, String what) {
    String other = taken.putIfAbsent(what, slot);
    if (other != null) {
      add(where, what + " is set for slot " + other + " already");
    }
  }

  /** Names each unknown key, with the one that was probably meant. */
  void checkKeys(String where, JsonNode node, List<String> known) {
    for (Iterator<String> names = node.fieldNames(); names.hasNext(); ) {
      String name = names.next();
      if (!known.contains(name)) {
        String allowed = "; known are " + String.join(", ", known);
        boolean near = NearestName.to(name, known).isPresent();
        String hint = near ? NearestName.hint(name, known) : allowed;
        add(where, "unknown key \"" + name + "\"" + hint);
      }
    }
  }

  static boolean isLacking(JsonNode node) {
    return node.isMissingNode() || node.isNull();
  }
}
