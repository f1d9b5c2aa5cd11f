package soakbench.store;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.ObjectMapper;

/** Records as a column of JSON, under the names that they have in Java. */
final class JsonColumn {
  private static final ObjectMapper MAPPER = new ObjectMapper();

  private JsonColumn() {}

  static String text(Object value) {
    try {
      return MAPPER.writeValueAsString(value);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException("JSON can't hold " + value, e);
    }
  }

  /**
   * @param what what the row holds, for the error
   * @throws IllegalArgumentException if somebody changed the column by hand and it holds none
   */
  static <T> T read(String text, Class<T> as, String what) {
    try {
      return MAPPER.readValue(text, as);
    } catch (JsonProcessingException e) {
      throw new IllegalArgumentException(what + " can't be read", e);
    }
  }
}
