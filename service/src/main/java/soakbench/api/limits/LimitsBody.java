package soakbench.api.limits;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.List;
import java.util.function.UnaryOperator;
import soakbench.api.http.Json;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.RequestBodies;
import soakbench.model.Limits;
import soakbench.model.LimitsDraft;

/** Limits as a request gives them: those that are to change, by name. */
final class LimitsBody {
  private LimitsBody() {}

  /**
   * Reads the body.
   *
   * @param refusal a sentence that says what is not done where the limits have mistakes
   * @return makes of the limits in force those with these changes, or throws 422 with everything
   *     that is wrong
   * @throws ProblemException 415 if the body is of another type, 400 if it is no JSON object
   */
  static UnaryOperator<Limits> read(Context ctx, String refusal) {
    RequestBodies.requireMediaType(ctx, "application/json", "Limits are taken");
    JsonNode given =
        RequestBodies.object(ctx.bodyAsBytes(), "limits", "some like {\"band_low_c\":29}");
    return inForce -> changed(inForce, given, refusal);
  }

  private static Limits changed(Limits inForce, JsonNode given, String refusal) {
    LimitsDraft draft = new LimitsDraft(inForce);
    given.properties().forEach(p -> draft.set(p.getKey(), Json.plain(p.getValue())));
    List<Problem.Item> problems =
        draft.problems().stream().map(p -> Problem.Item.of(p.key(), sentence(p.reason()))).toList();
    if (!problems.isEmpty()) {
      throw new ProblemException(Problem.Kind.INVALID_CONTENT, refusal, problems);
    }
    return draft.limits();
  }

  private static String sentence(String reason) {
    return reason.endsWith("?") ? reason : reason + ".";
  }
}
