package soakbench.store.rows;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ArrayNode;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import soakbench.model.DeclaredRates;
import soakbench.model.Tracker.Rates;

/**
 * What was declared of a soak's rates as a column of JSON. It is not derived, so what this program
 * does not know of it is left out, or taken for nothing declared, and never an error.
 */
final class RatesColumn {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  private RatesColumn() {}

  /** Null where nothing is stored of it. */
  static String text(List<DeclaredRates> rates) {
    if (rates.isEmpty()) {
      return null;
    }
    ArrayNode all = MAPPER.createArrayNode();
    for (DeclaredRates declared : rates) {
      all.addObject()
          .put("from_second", declared.fromSecond())
          .put("rates", declared.rates().word());
    }
    return all.toString();
  }

  /**
   * @param text null where nothing is stored of it
   */
  static List<DeclaredRates> rates(String text) {
    List<DeclaredRates> all = new ArrayList<>();
    for (JsonNode declared : tree(text)) {
      if (declared.path("from_second").isIntegralNumber()) {
        all.add(
            new DeclaredRates(
                declared.path("from_second").longValue(),
                Rates.of(declared.path("rates").asText()).orElse(Rates.UNKNOWN)));
      }
    }
    all.sort(Comparator.comparingLong(DeclaredRates::fromSecond));
    return all;
  }

  private static JsonNode tree(String text) {
    try {
      return text == null ? MAPPER.createArrayNode() : MAPPER.readTree(text);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("stored rates can't be read: " + text, e);
    }
  }
}
