package soakbench.api.roster;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import soakbench.api.http.Json;
import soakbench.model.Tracker;

/**
 * One field of the roster that differs between two entries of a tracker.
 *
 * @param id whose
 * @param field its name, {@code lot}
 * @param from as text, as the roster's table has it
 * @param to as text
 */
record FieldDifference(String id, String field, String from, String to) {

  /** All that differ, in the order of the roster's table. */
  static List<FieldDifference> between(Tracker before, Tracker after) {
    JsonNode from = Json.mapper().valueToTree(before);
    JsonNode to = Json.mapper().valueToTree(after);
    return TrackerFields.NAMES.stream()
        .filter(field -> !from.get(field).equals(to.get(field)))
        .map(
            field ->
                new FieldDifference(
                    after.id(), field, from.get(field).asText(), to.get(field).asText()))
        .toList();
  }
}
