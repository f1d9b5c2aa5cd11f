package soakbench.api.http;

import com.fasterxml.jackson.core.JsonGenerator;
import com.fasterxml.jackson.databind.BeanDescription;
import com.fasterxml.jackson.databind.JsonSerializer;
import com.fasterxml.jackson.databind.SerializationConfig;
import com.fasterxml.jackson.databind.SerializerProvider;
import com.fasterxml.jackson.databind.ser.BeanPropertyWriter;
import com.fasterxml.jackson.databind.ser.BeanSerializerModifier;
import java.io.IOException;
import java.util.Collection;
import java.util.List;

/** Writes properties that hold microseconds since 1970 as RFC 3339 text. */
final class TimeProperties extends BeanSerializerModifier {
  private static final long serialVersionUID = 1L;

  @Override
  public List<BeanPropertyWriter> changeProperties(
      SerializationConfig config, BeanDescription bean, List<BeanPropertyWriter> properties) {
    for (BeanPropertyWriter property : properties) {
      if (UnitNames.isTime(javaName(property), property.getType())) {
        property.assignSerializer(new TimeForm());
      }
    }
    return properties;
  }

  private static String javaName(BeanPropertyWriter property) {
    return property.getMember().getName();
  }

  private static final class TimeForm extends JsonSerializer<Object> {
    @Override
    public void serialize(Object value, JsonGenerator json, SerializerProvider provider)
        throws IOException {
      if (value instanceof Long timeUs) {
        json.writeString(Times.text(timeUs));
      } else if (value instanceof long[] timesUs) {
        json.writeStartArray();
        for (long timeUs : timesUs) {
          json.writeString(Times.text(timeUs));
        }
        json.writeEndArray();
      } else {
        json.writeStartArray();
        for (Object timeUs : (Collection<?>) value) {
          json.writeString(Times.text((Long) timeUs));
        }
        json.writeEndArray();
      }
    }
  }
}
