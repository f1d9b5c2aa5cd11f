package soakbench.api.lots;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.RequestBodies;
import soakbench.lots.compare.Metrics;
import soakbench.lots.compare.ScreeningLimit;
import soakbench.model.NearestName;

/** Limits for screening as a request gives them. */
final class ScreeningBody {
  private static final String EXAMPLE =
      "some like"
          + " {\"screening_limits\":[{\"metric\":\"greatest_tempco_dps_per_c\",\"look_again_over\":0.03,"
          + "\"reject_over\":0.04}]}";

  private static final Set<String> MEMBERS = Set.of("metric", "look_again_over", "reject_over");

  private final List<Problem.Item> problems = new ArrayList<>();

  private ScreeningBody() {}

  /**
   * Reads them.
   *
   * @param refusal a sentence that says what is not done where they have mistakes
   * @throws ProblemException 415 if the body is of another type, 400 if it is no JSON object, 422
   *     with all that is wrong
   */
  static List<ScreeningLimit> read(Context ctx, String refusal) {
    RequestBodies.requireMediaType(ctx, "application/json", "Limits for screening are taken");
    JsonNode body = RequestBodies.object(ctx.bodyAsBytes(), "limits for screening", EXAMPLE);
    ScreeningBody reader = new ScreeningBody();
    List<ScreeningLimit> limits = reader.limits(body);
    if (!reader.problems.isEmpty()) {
      throw new ProblemException(Problem.Kind.INVALID_CONTENT, refusal, reader.problems);
    }
    return limits;
  }

  private List<ScreeningLimit> limits(JsonNode body) {
    JsonNode given = body.get("screening_limits");
    List<ScreeningLimit> limits = new ArrayList<>();
    if (given == null || !given.isArray()) {
      problem("screening_limits", "screening_limits must be a list; send " + EXAMPLE + ".");
      return limits;
    }
    Set<String> seen = new HashSet<>();
    for (JsonNode one : given) {
      ScreeningLimit limit = limit(one);
      if (limit != null && !seen.add(limit.metric())) {
        problem(limit.metric(), limit.metric() + " comes twice; give its limits once.");
      } else if (limit != null) {
        limits.add(limit);
      }
    }
    return limits;
  }

  private ScreeningLimit limit(JsonNode one) {
    String metric = one.path("metric").asText("");
    if (!Metrics.byName().containsKey(metric)) {
      problem("metric", LotParameters.unknownMetric(metric));
      return null;
    }
    one.fieldNames()
        .forEachRemaining(
            name -> {
              if (!MEMBERS.contains(name)) {
                problem(metric, "There is no " + name + " here" + hint(name));
              }
            });
    ScreeningLimit limit =
        new ScreeningLimit(
            metric, number(metric, one, "look_again_over"), number(metric, one, "reject_over"));
    limit.problems().forEach(reason -> problem(metric, metric + ": " + reason));
    return limit;
  }

  private static String hint(String name) {
    String near = NearestName.hint(name, MEMBERS);
    return near.isEmpty() ? "; a limit has metric, look_again_over and reject_over." : near;
  }

  private Double number(String metric, JsonNode one, String name) {
    JsonNode value = one.get(name);
    if (value == null || value.isNull()) {
      return null;
    }
    if (!value.isNumber()) {
      problem(metric, "%s: %s must be a number or null.".formatted(metric, name));
      return null;
    }
    return value.doubleValue();
  }

  private void problem(String field, String reason) {
    problems.add(Problem.Item.of(field, reason));
  }
}
