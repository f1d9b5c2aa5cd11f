package soakbench.store.derived;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JavaType;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.MapperFeature;
import com.fasterxml.jackson.databind.json.JsonMapper;
import java.util.List;
import java.util.Optional;
import java.util.function.Consumer;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Derived records as a column of JSON, under the names that they have in Java. Unknown members, of
 * another release, are ignored. A row that lacks a member, or has one of another type, counts as
 * none: it is logged once, and derived anew.
 */
final class JsonColumn<T> {
  private static final Logger LOG = LoggerFactory.getLogger(JsonColumn.class);

  private static final JsonMapper MAPPER =
      JsonMapper.builder()
          .disable(DeserializationFeature.FAIL_ON_UNKNOWN_PROPERTIES)
          .enable(DeserializationFeature.FAIL_ON_MISSING_CREATOR_PROPERTIES)
          .enable(DeserializationFeature.FAIL_ON_NULL_FOR_PRIMITIVES)
          .enable(DeserializationFeature.FAIL_ON_NUMBERS_FOR_ENUMS)
          .disable(DeserializationFeature.ACCEPT_FLOAT_AS_INT)
          .disable(MapperFeature.ALLOW_COERCION_OF_SCALARS)
          .build();

  private final JavaType as;
  private final String what;
  private final DirtySoaks dirty;
  private final Consumer<JsonNode> older;

  /**
   * @param what what the column holds, for the log
   * @param dirty marks the soaks whose row can't be read
   */
  JsonColumn(Class<T> as, String what, DirtySoaks dirty) {
    this(as, what, dirty, row -> {});
  }

  /**
   * @param older completes a row that an older release wrote
   */
  JsonColumn(Class<T> as, String what, DirtySoaks dirty, Consumer<JsonNode> older) {
    this(MAPPER.constructType(as), what, dirty, older);
  }

  private JsonColumn(JavaType as, String what, DirtySoaks dirty, Consumer<JsonNode> older) {
    this.as = as;
    this.what = what;
    this.dirty = dirty;
    this.older = older;
  }

  /** One that holds lists of records. */
  static <T> JsonColumn<List<T>> ofLists(Class<T> as, String what, DirtySoaks dirty) {
    JavaType list = MAPPER.getTypeFactory().constructCollectionType(List.class, as);
    return new JsonColumn<>(list, what, dirty, row -> {});
  }

  static String text(Object value) {
    try {
      return MAPPER.writeValueAsString(value);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("JSON can't hold " + value, e);
    }
  }

  /** What the row of a soak holds; empty where this program can't read it. */
  Optional<T> read(String soak, String text) {
    try {
      T value = value(text);
      boolean holes = value instanceof List<?> all && all.contains(null);
      if (value != null && !holes) {
        return Optional.of(value);
      }
      unreadable(soak, "it is null, or holds null");
    } catch (JsonProcessingException e) {
      unreadable(soak, e.getOriginalMessage());
    }
    return Optional.empty();
  }

  private T value(String text) throws JsonProcessingException {
    try {
      return MAPPER.readValue(text, as);
    } catch (JsonProcessingException e) {
      JsonNode row = MAPPER.readTree(text);
      older.accept(row);
      return MAPPER.treeToValue(row, as);
    }
  }

  private void unreadable(String soak, String why) {
    if (dirty.unreadable(soak)) {
      LOG.warn("soak {}: its {} can't be read and are derived anew: {}", soak, what, why);
    }
  }
}
