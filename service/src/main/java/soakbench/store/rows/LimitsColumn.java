package soakbench.store.rows;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.node.ObjectNode;
import java.util.EnumMap;
import java.util.Map;
import soakbench.model.LimitKey;
import soakbench.model.Limits;

/**
 * Limits as a column of JSON: each under its name. One that was not known yet when a row was
 * written has its default.
 */
public final class LimitsColumn {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  private LimitsColumn() {}

  static String text(Limits limits) {
    ObjectNode all = MAPPER.createObjectNode();
    LimitKey.values(limits).forEach((key, value) -> all.put(key.key(), value));
    return all.toString();
  }

  /**
   * @throws IllegalArgumentException if somebody changed the column by hand and it holds no limits
   */
  public static Limits limits(String text) {
    Map<LimitKey, Double> all = new EnumMap<>(LimitKey.values(Limits.DEFAULT));
    try {
      JsonNode stored = MAPPER.readTree(text);
      for (LimitKey key : LimitKey.values()) {
        JsonNode value = stored.get(key.key());
        if (value != null) {
          all.put(key, value.isNull() ? null : value.doubleValue());
        }
      }
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("stored limits can't be read: " + text, e);
    }
    return LimitKey.limits(all);
  }
}
