package soakbench.api.soaks;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.RequestBodies;

/** What is sent to leave a soak out of the figures. */
final class LeaveOutBody {
  private static final int LONGEST = 200;
  private static final String EXAMPLE = "{\"reason\":\"the blanket had slipped\"}";

  private LeaveOutBody() {}

  /**
   * The reason, without blanks around it.
   *
   * @throws ProblemException 400 if the body is no such object, 422 without a reason of 1 to 200
   *     characters
   */
  static String reason(Context ctx) {
    RequestBodies.requireMediaType(ctx, "application/json", "A reason is taken");
    JsonNode body = RequestBodies.object(ctx.bodyAsBytes(), "a reason", EXAMPLE);
    List<Problem.Item> problems = new ArrayList<>();
    body.fieldNames()
        .forEachRemaining(
            name -> {
              if (!name.equals("reason")) {
                problems.add(
                    Problem.Item.of(name, "It is not known here; the only one is reason."));
              }
            });
    JsonNode given = body.path("reason");
    String reason = given.isTextual() ? given.textValue().strip() : "";
    if (reason.isEmpty() || reason.codePoints().anyMatch(Character::isISOControl)) {
      problems.add(
          Problem.Item.of("reason", "It must say in a line of text why the soak does not count."));
    } else if (reason.length() > LONGEST) {
      problems.add(
          Problem.Item.of(
              "reason",
              "It has %d characters; %d are the most.".formatted(reason.length(), LONGEST)));
    }
    if (!problems.isEmpty()) {
      throw new ProblemException(Problem.Kind.INVALID_CONTENT, "Send " + EXAMPLE + ".", problems);
    }
    return reason;
  }
}
