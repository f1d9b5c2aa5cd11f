package soakbench.api.http;

import io.javalin.http.Context;
import java.time.DateTimeException;
import java.time.Instant;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;

/**
 * How a table is written for the spreadsheet that reads it.
 *
 * @param separator what parts cells
 * @param decimal the decimal sign
 * @param dates the zone of dates that spreadsheets take for dates; null for RFC 3339 in UTC, which
 *     most of them take for text
 * @param truthAsNumbers whether true is 1 and false 0: the words are no truth values to a
 *     spreadsheet of another language
 * @param bom whether a byte order mark goes first, by which some know UTF-8
 */
public record CsvDialect(
    char separator, char decimal, ZoneId dates, boolean truthAsNumbers, boolean bom) {
  public static final List<String> PARAMETERS =
      List.of("bom", "dates", "decimal", "separator", "truth", "zone");

  public static final CsvDialect POINT = new CsvDialect(',', '.', null, false, false);
  static final CsvDialect COMMA = new CsvDialect(';', ',', null, false, false);

  /** Whole seconds: with decimals of a second not every language takes it for a date. */
  private static final DateTimeFormatter LOCAL =
      DateTimeFormatter.ofPattern("uuuu-MM-dd HH:mm:ss", Locale.ROOT);

  /**
   * What a request asks for.
   *
   * @throws ProblemException 400 if a parameter is not understood or two contradict each other
   */
  public static CsvDialect of(Context ctx) {
    boolean comma = word(ctx, "decimal", "point", "comma").equals("comma");
    return new CsvDialect(
        separator(ctx, comma),
        comma ? ',' : '.',
        dates(ctx),
        word(ctx, "truth", "word", "number").equals("number"),
        QueryParameters.flag(ctx, "bom"));
  }

  private static char separator(Context ctx, boolean decimalComma) {
    String usual = decimalComma ? "semicolon" : "comma";
    String asked = QueryParameters.text(ctx, "separator");
    return switch (asked == null ? usual : asked) {
      case "semicolon" -> ';';
      case "tab" -> '\t';
      case "comma" -> {
        if (decimalComma) {
          throw QueryParameters.invalid(
              "separator",
              "separator=comma can't be told from decimal=comma; use separator=semicolon or tab.");
        }
        yield ',';
      }
      default ->
          throw QueryParameters.invalid(
              "separator", "separator=" + asked + " is not known; use comma, semicolon or tab.");
    };
  }

  private static ZoneId dates(Context ctx) {
    ZoneId zone = zone(ctx);
    boolean local = word(ctx, "dates", "utc", "local").equals("local");
    if (!local && QueryParameters.text(ctx, "zone") != null) {
      throw QueryParameters.invalid(
          "zone", "zone goes with dates=local; add it, or leave zone out.");
    }
    return local ? zone : null;
  }

  /**
   * The zone that a request names; without one that of the service's computer.
   *
   * @throws ProblemException 400 if there is no such zone
   */
  public static ZoneId zone(Context ctx) {
    String asked = QueryParameters.text(ctx, "zone");
    try {
      // A plus sign that was not escaped in the address arrives as a blank.
      return asked == null ? ZoneId.systemDefault() : ZoneId.of(asked.replace(' ', '+'));
    } catch (DateTimeException e) {
      throw QueryParameters.invalid(
          "zone", "zone=" + asked + " is not known; it looks like Europe/Berlin, +02:00 or UTC.");
    }
  }

  private static String word(Context ctx, String name, String usual, String other) {
    String asked = QueryParameters.text(ctx, name);
    if (asked == null || asked.equals(usual)) {
      return usual;
    }
    if (asked.equals(other)) {
      return other;
    }
    throw QueryParameters.invalid(
        name,
        "%1$s=%2$s is not known; use %1$s=%3$s or %1$s=%4$s.".formatted(name, asked, usual, other));
  }

  String date(Instant time) {
    return dates == null ? time.toString() : LOCAL.format(time.atZone(dates));
  }

  String truth(boolean value) {
    return truthAsNumbers ? value ? "1" : "0" : String.valueOf(value);
  }
}
