package soakbench.api.http;

import com.fasterxml.jackson.databind.JavaType;
import com.fasterxml.jackson.databind.PropertyNamingStrategy;
import com.fasterxml.jackson.databind.cfg.MapperConfig;
import com.fasterxml.jackson.databind.introspect.AnnotatedField;
import com.fasterxml.jackson.databind.introspect.AnnotatedMember;
import com.fasterxml.jackson.databind.introspect.AnnotatedMethod;
import com.fasterxml.jackson.databind.introspect.AnnotatedParameter;

/**
 * Turns Java names into JSON names: an underscore before each upper-case letter and before digits
 * that follow a letter, then lower case, so that units stay apart ({@code temperatureRateCPerMin}
 * is {@code temperature_rate_c_per_min}). A time counted in microseconds ({@code sinceUs}) is
 * written as text, so its name loses the unit ({@code since}).
 */
final class UnitNames extends PropertyNamingStrategy {
  private static final long serialVersionUID = 1L;
  private static final String TIME_UNIT = "Us";

  @Override
  public String nameForField(MapperConfig<?> config, AnnotatedField field, String name) {
    return name(field, name);
  }

  @Override
  public String nameForGetterMethod(MapperConfig<?> config, AnnotatedMethod getter, String name) {
    return name(getter, name);
  }

  /** The parts of a record that is read. */
  @Override
  public String nameForConstructorParameter(
      MapperConfig<?> config, AnnotatedParameter parameter, String name) {
    return name(parameter, name);
  }

  private static String name(AnnotatedMember member, String name) {
    return isTime(name, member.getType())
        ? snakeCase(name.substring(0, name.length() - TIME_UNIT.length()))
        : snakeCase(name);
  }

  /** Whether a Java property is a time, or several, in microseconds since 1970. */
  static boolean isTime(String name, JavaType type) {
    return name.endsWith(TIME_UNIT) && name.length() > TIME_UNIT.length() && holdsLongs(type);
  }

  private static boolean holdsLongs(JavaType type) {
    if (type.isArrayType() || type.isCollectionLikeType()) {
      return holdsLongs(type.getContentType());
    }
    return type.hasRawClass(long.class) || type.hasRawClass(Long.class);
  }

  static String snakeCase(String name) {
    StringBuilder snake = new StringBuilder(name.length() + 8);
    for (int i = 0; i < name.length(); i++) {
      char c = name.charAt(i);
      boolean afterLetter = i > 0 && Character.isLetter(name.charAt(i - 1));
      if (i > 0 && (Character.isUpperCase(c) || (Character.isDigit(c) && afterLetter))) {
        snake.append('_');
      }
      snake.append(Character.toLowerCase(c));
    }
    return snake.toString();
  }
}
