package soakbench.api.http;

import com.fasterxml.jackson.annotation.JsonInclude;
import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.DeserializationFeature;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.JsonSerializer;
import com.fasterxml.jackson.databind.ObjectMapper;
import com.fasterxml.jackson.databind.SerializationFeature;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.json.JsonMapper;
import com.fasterxml.jackson.databind.module.SimpleModule;
import com.fasterxml.jackson.datatype.jdk8.Jdk8Module;
import com.fasterxml.jackson.datatype.jsr310.JavaTimeModule;
import java.io.IOException;
import java.util.Locale;
import soakbench.model.Estimate;

/**
 * How records become JSON, for the service and for offline judging alike. Names are snake_case and
 * end in their unit; times (names ending in {@code Us}) become RFC 3339 text in UTC; what is not a
 * number becomes null; a double that holds just a single-precision number, as a second's mean of a
 * temperature that stood still, is written with that one's digits; nulls are written; enum
 * constants are lower-case words; parts that are grouped in Java ({@link FlattenedGroups}) stand
 * beside the others; an {@link Estimate} is {@code {value, se, low, high}} or {@code {value: null,
 * reason}}.
 */
public final class Json {
  /** Below 2^24 single precision still has every whole number. */
  private static final double EXACT_WHOLE = 1 << 24;

  private static final ObjectMapper MAPPER = build();

  private Json() {}

  /** The one mapper. Thread-safe; not to be reconfigured. */
  public static ObjectMapper mapper() {
    return MAPPER;
  }

  /**
   * One line of JSON.
   *
   * @throws IllegalStateException if the value is of a kind that has no JSON form: our own mistake
   */
  public static String write(Object value) {
    try {
      return MAPPER.writeValueAsString(value);
    } catch (JsonProcessingException e) {
      throw new IllegalStateException("cannot write " + value.getClass() + " as JSON", e);
    }
  }

  /** A node as a plain number or null; anything else as the text it was given by. */
  public static Object plain(JsonNode node) {
    return node.isNull() ? null : node.isNumber() ? node.numberValue() : node.toString();
  }

  private static ObjectMapper build() {
    return JsonMapper.builder()
        .addModule(new Jdk8Module())
        .addModule(new JavaTimeModule())
        .addModule(ownForms())
        .annotationIntrospector(new FlattenedGroups())
        .propertyNamingStrategy(new UnitNames())
        .serializationInclusion(JsonInclude.Include.ALWAYS)
        .disable(SerializationFeature.WRITE_DATES_AS_TIMESTAMPS)
        .disable(SerializationFeature.FAIL_ON_EMPTY_BEANS)
        .enable(DeserializationFeature.FAIL_ON_TRAILING_TOKENS)
        .build();
  }

  private static SimpleModule ownForms() {
    SimpleModule module = new SimpleModule("soakbench");
    module.addSerializer(Double.class, form((value, json) -> number(json, value)));
    module.addSerializer(double.class, form((value, json) -> number(json, value)));
    module.addSerializer(Float.class, form((value, json) -> number(json, value)));
    module.addSerializer(float.class, form((value, json) -> number(json, value)));
    module.addSerializer(double[].class, form((value, json) -> numbers(json, value)));
    module.addSerializer(float[].class, form((value, json) -> numbers(json, value)));
    module.addSerializer(Enum.class, form((value, json) -> json.writeString(word(value))));
    module.addSerializer(Estimate.class, form((value, json) -> estimate(json, value)));
    module.setSerializerModifier(new TimeProperties());
    return module;
  }

  /** The word that stands for an enum constant: its name in lower case. */
  public static String word(Enum<?> constant) {
    return constant.name().toLowerCase(Locale.ROOT);
  }

  /**
   * Whether a double holds a single-precision number exactly, such as 24.31f, which has more digits
   * as a double (24.309999465942383) than were ever measured. Of doubles that were calculated one
   * in 5e8 does by chance, and those that are short anyway, whose digits are the same.
   */
  static boolean isSingle(double value) {
    return (float) value == value && Math.abs(value) < EXACT_WHOLE;
  }

  private static void number(JsonGenerator json, double value) throws IOException {
    if (isSingle(value)) {
      json.writeNumber((float) value);
    } else if (Double.isFinite(value)) {
      json.writeNumber(value);
    } else {
      json.writeNull();
    }
  }

  private static void number(JsonGenerator json, float value) throws IOException {
    if (Float.isFinite(value)) {
      json.writeNumber(value);
    } else {
      json.writeNull();
    }
  }

  private static void numbers(JsonGenerator json, double[] values) throws IOException {
    json.writeStartArray();
    for (double value : values) {
      number(json, value);
    }
    json.writeEndArray();
  }

  private static void numbers(JsonGenerator json, float[] values) throws IOException {
    json.writeStartArray();
    for (float value : values) {
      number(json, value);
    }
    json.writeEndArray();
  }

  private static void estimate(JsonGenerator json, Estimate estimate) throws IOException {
    json.writeStartObject();
    if (estimate.known()) {
      member(json, "value", estimate.value());
      member(json, "se", estimate.se());
      member(json, "low", estimate.low());
      member(json, "high", estimate.high());
    } else {
      json.writeNullField("value");
      json.writeStringField("reason", estimate.reason());
    }
    json.writeEndObject();
  }

  private static void member(JsonGenerator json, String name, Double value) throws IOException {
    json.writeFieldName(name);
    number(json, value == null ? Double.NaN : value);
  }

  private interface Form<T> {
    void write(T value, JsonGenerator json) throws IOException;
  }

  private static <T> JsonSerializer<T> form(Form<T> form) {
    return new JsonSerializer<>() {
      @Override
      public void serialize(T value, JsonGenerator json, SerializerProvider provider)
          throws IOException {
        form.write(value, json);
      }
    };
  }
}
