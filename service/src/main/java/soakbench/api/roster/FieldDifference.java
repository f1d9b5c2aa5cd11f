package soakbench.api.roster;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.List;
import soakbench.api.http.Json;
import soakbench.model.Tracker;

/**
 * One field of the roster that differs between two entries of a tracker.
 *
 * @param tracker whose
 * @param field its name, {@code lot}
 * @param was as text, as the roster's table has it
 * @param is as text
 */
record FieldDifference(String tracker, String field, String was, String is) {

  /** All that differ, in the order of the roster's table. */
  static List<FieldDifference> between(Tracker before, Tracker after) {
    JsonNode was = Json.mapper().valueToTree(before);
    JsonNode is = Json.mapper().valueToTree(after);
    return TrackerFields.NAMES.stream()
        .filter(field -> !was.get(field).equals(is.get(field)))
        .map(
            field ->
                new FieldDifference(
                    after.id(), field, was.get(field).asText(), is.get(field).asText()))
        .toList();
  }
}
