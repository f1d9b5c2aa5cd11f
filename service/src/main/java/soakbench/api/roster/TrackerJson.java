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

/** Reads one tracker of the roster from JSON; a member that is not there takes its default. */
final class TrackerJson {
  private TrackerJson() {}

  /**
   * The tracker that the body describes.
   *
   * @param id the id in the address; the body may repeat it
   * @throws ProblemException 400 if the body is no JSON object, 422 with every mistake by member
   */
  static Tracker read(String id, byte[] body) {
    JsonNode object = RequestBodies.object(body, "a tracker", "one like {\"name\":\"Left foot\"}");
    TrackerFields fields = new TrackerFields(Tracker.unknown(id));
    List<Item> problems = new ArrayList<>();
    object
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
      return Optional.empty();
    }
    if (number ? !value.isNumber() : !value.isTextual()) {
      return Optional.of(name + " must be " + (number ? "a number of degC." : "text in quotes."));
    }
    return fields.set(name, value.asText().strip());
  }
}
