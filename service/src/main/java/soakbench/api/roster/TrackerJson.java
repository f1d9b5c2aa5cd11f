package soakbench.api.roster;

import com.fasterxml.jackson.databind.JsonNode;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import soakbench.api.http.Problem;
import soakbench.api.http.Problem.Item;
import soakbench.api.http.ProblemException;
import soakbench.api.http.RequestBodies;
import soakbench.model.Tracker;

/** Reads one tracker of the roster from JSON; a member that is not there leaves what was there. */
final class TrackerJson {
  private TrackerJson() {}

  /**
   * The members of a body.
   *
   * @throws ProblemException 400 if it is no JSON object
   */
  static JsonNode members(byte[] body) {
    return RequestBodies.object(body, "a tracker", "one like {\"name\":\"Left foot\"}");
  }

  /**
   * The tracker with these members set; null sets one back to its default.
   *
   * @param from the one of this address; the members may repeat its id
   * @throws ProblemException 422 with every mistake by member
   */
  static Tracker set(Tracker from, JsonNode members) {
    String id = from.id();
    TrackerFields fields = new TrackerFields(from);
    List<Item> problems = new ArrayList<>();
    members
        .properties()
        .forEach(
            member ->
                set(fields, id, member.getKey(), member.getValue())
                    .ifPresent(reason -> problems.add(Item.of(member.getKey(), reason))));
    if (!problems.isEmpty()) {
      throw new ProblemException(
          Problem.Kind.INVALID_CONTENT, id + " was not written. Mend what is listed.", problems);
    }
    return fields.tracker();
  }

  private static Optional<String> set(
      TrackerFields fields, String id, String name, JsonNode value) {
    if (!TrackerFields.NAMES.contains(name)) {
      return Optional.of(TrackerFields.unknown("Member", name));
    }
    if (name.equals(TrackerFields.ID)) {
      return value.asText().equals(id)
          ? Optional.empty()
          : Optional.of("id \"" + value.asText() + "\" is not the one in the address, " + id + ".");
    }
    boolean number = name.equals(TrackerFields.TEMPERATURE_OFFSET_C);
    if (value.isNull()) {
      return fields.set(name, "");
    }
    if (number ? !value.isNumber() : !value.isTextual()) {
      return Optional.of(name + " must be " + (number ? "a number of degC." : "text in quotes."));
    }
    return fields.set(name, value.asText().strip());
  }
}
