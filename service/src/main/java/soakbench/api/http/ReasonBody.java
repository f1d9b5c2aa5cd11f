package soakbench.api.http;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;

/** What is sent with a change that those who read the figures later must be told the reason of. */
public final class ReasonBody {
  private static final String REASON = "reason";
  private static final int LONGEST = 200;

  private final JsonNode body;
  private final String example;
  private final List<Problem.Item> problems = new ArrayList<>();

  private ReasonBody(JsonNode body, String example) {
    this.body = body;
    this.example = example;
  }

  /**
   * Reads the body.
   *
   * @param example ends "Send …"
   * @param others members that it has beside {@code reason}
   * @throws ProblemException 400 if the body is no object, 415 if it is not JSON
   */
  public static ReasonBody read(Context ctx, String example, String... others) {
    RequestBodies.requireMediaType(ctx, "application/json", "A reason is taken");
    ReasonBody read =
        new ReasonBody(RequestBodies.object(ctx.bodyAsBytes(), "a reason", example), example);
    read.refuseStrangers(new TreeSet<>(List.of(others)));
    return read;
  }

  private void refuseStrangers(Set<String> others) {
    Set<String> known = new TreeSet<>(others);
    known.add(REASON);
    body.fieldNames()
        .forEachRemaining(
            name -> {
              if (!known.contains(name)) {
                String there = known.size() == 1 ? "the only one is " : "there are ";
                problems.add(
                    Problem.Item.of(
                        name, "It is not known here; " + there + String.join(", ", known) + "."));
              }
            });
  }

  /** A member as text without blanks around it; empty where it is none. */
  public String text(String name) {
    JsonNode given = body.path(name);
    return given.isTextual() ? given.textValue().strip() : "";
  }

  /** Notes what is wrong with a member. */
  public void wrong(String name, String reason) {
    problems.add(Problem.Item.of(name, reason));
  }

  /**
   * The reason.
   *
   * @param why what it must say, to end a sentence
   * @throws ProblemException 422 without a reason of 1 to 200 characters, or where something else
   *     is wrong
   */
  public String reason(String why) {
    String reason = text(REASON);
    if (reason.isEmpty() || reason.codePoints().anyMatch(Character::isISOControl)) {
      wrong(REASON, "It must say in a line of text " + why + ".");
    } else if (reason.length() > LONGEST) {
      wrong(REASON, "It has %d characters; %d are the most.".formatted(reason.length(), LONGEST));
    }
    if (!problems.isEmpty()) {
      throw new ProblemException(Problem.Kind.INVALID_CONTENT, "Send " + example + ".", problems);
    }
    return reason;
  }
}
