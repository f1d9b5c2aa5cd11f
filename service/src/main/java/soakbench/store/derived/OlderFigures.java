package soakbench.store.derived;

import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.node.ArrayNode;
import com.fasterxml.jackson.databind.node.JsonNodeFactory;
import com.fasterxml.jackson.databind.node.ObjectNode;

/**
 * Figures as releases before version 5 stored them, which knew no power left out and nothing that
 * soaks repeat: they are completed by zeros and answered so until they are derived anew, which may
 * take long where soaks are many.
 */
final class OlderFigures {
  private static final double NORMAL_95 = 1.959964;

  private OlderFigures() {}

  /** Adds what a row lacks; one that lacks nothing, or is none of these, stays as it is. */
  static void complete(JsonNode row) {
    if (row instanceof ObjectNode figures
        && figures.path("axes").isArray()
        && !figures.has("timeConstantPriorOnly")) {
      figures.put("timeConstantPriorOnly", false);
      figures.get("axes").forEach(OlderFigures::completeAxis);
    }
  }

  private static void completeAxis(JsonNode axis) {
    if (!(axis instanceof ObjectNode of)) {
      return;
    }
    of.putNull("limitsSe");
    of.putNull("repeated");
    if (of.get("coefficients") instanceof ArrayNode c
        && of.get("covariance") instanceof ArrayNode m) {
      c.add(0.0);
      m.forEach(line -> ((ArrayNode) line).add(0.0));
      m.add(zeros(c.size()));
      of.put("limitsSe", limitsSe(of.path("tempcoDpsPerC")));
      ObjectNode repeated = of.putObject("repeated");
      repeated.set("lag", zeros(c.size()));
      repeated.set("powerLeftOut", zeros(c.size()));
    }
  }

  private static double limitsSe(JsonNode slope) {
    double se = slope.path("se").asDouble();
    return se > 0
        ? (slope.path("high").asDouble() - slope.path("value").asDouble()) / se
        : NORMAL_95;
  }

  private static ArrayNode zeros(int count) {
    ArrayNode zeros = JsonNodeFactory.instance.arrayNode();
    for (int i = 0; i < count; i++) {
      zeros.add(0.0);
    }
    return zeros;
  }
}
