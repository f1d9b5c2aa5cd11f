package soakbench.api.http;

import io.javalin.http.Context;
import java.util.List;
import java.util.OptionalLong;
import java.util.Set;
import soakbench.model.NearestName;

/**
 * Reads query parameters. One that is not known is passed over, so that an address can be made new
 * for a cache that would not ask again; one that looks like a known one is refused.
 */
public final class QueryParameters {
  /** Shorter names make an address new for a cache: t=, _=, cb=. */
  private static final int SHORTEST_MISSPELT = 3;

  private QueryParameters() {}

  /**
   * Makes sure that no parameter is one of the known misspelt: what was meant to narrow a table
   * would be passed over, and the whole table taken for the part.
   *
   * @throws ProblemException 400 that names the nearest
   */
  static void refuseMisspelt(Context ctx, Set<String> known) {
    for (String name : ctx.queryParamMap().keySet()) {
      if (!known.contains(name) && name.length() >= SHORTEST_MISSPELT) {
        String hint = NearestName.hint(name, known);
        if (!hint.isEmpty()) {
          throw invalid(name, "There is no parameter " + name + hint);
        }
      }
    }
  }

  /** True where the parameter is there as {@code true}; false where it is not there. */
  public static boolean flag(Context ctx, String name) {
    String value = ctx.queryParam(name);
    if (value == null || value.equals("false")) {
      return false;
    }
    if (value.equals("true") || value.isEmpty()) {
      return true;
    }
    throw invalid(name, name + "=" + value + " must be true or false.");
  }

  /** The time, microseconds since 1970, or null where the parameter is not there. */
  public static Long timeUs(Context ctx, String name) {
    String value = text(ctx, name);
    if (value == null) {
      return null;
    }
    // A plus sign that was not escaped in the address arrives as a blank.
    OptionalLong timeUs = Times.parse(value.replace(' ', '+'));
    return timeUs.orElseThrow(
        () ->
            invalid(
                name,
                name + "=" + value + " must be a time like 2026-03-01T08:00:00Z (RFC 3339)."));
  }

  /** A whole number from 1 to {@code most}, or the default where the parameter is not there. */
  public static int count(Context ctx, String name, int otherwise, int most) {
    return count(ctx, name, otherwise, most, 1);
  }

  /** A whole number from {@code least} to {@code most}, or the default. */
  public static int count(Context ctx, String name, int otherwise, int most, int least) {
    String value = text(ctx, name);
    if (value == null) {
      return otherwise;
    }
    if (value.matches("[0-9]{1,9}")) {
      int count = Integer.parseInt(value);
      if (count >= least && count <= most) {
        return count;
      }
    }
    throw invalid(
        name, name + "=" + value + " must be a whole number from " + least + " to " + most + ".");
  }

  /** A temperature that a chip can have, degC, or null where the parameter is not there. */
  public static Double celsius(Context ctx, String name) {
    String value = text(ctx, name);
    if (value == null) {
      return null;
    }
    if (value.matches("-?[0-9]{1,3}(\\.[0-9]{1,9})?")) {
      double celsius = Double.parseDouble(value);
      if (celsius >= -40 && celsius <= 125) {
        return celsius;
      }
    }
    throw invalid(
        name, name + "=" + value + " must be a temperature from -40 to 125 degC, like 31.5.");
  }

  /** Text, or null where the parameter is not there or empty. */
  public static String text(Context ctx, String name) {
    String value = ctx.queryParam(name);
    if (value != null && value.indexOf('\0') >= 0) {
      throw invalid(name, name + " holds a zero byte, which is in no text here.");
    }
    return value == null || value.isEmpty() ? null : value;
  }

  /** A 400 that names the parameter. */
  public static ProblemException invalid(String name, String reason) {
    return new ProblemException(
        Problem.Kind.INVALID_REQUEST, reason, List.of(Problem.Item.of(name, reason)));
  }
}
