package soakbench.api.http;

import io.javalin.http.Context;
import java.util.List;

/**
 * How a spreadsheet reads numbers: with a decimal point and commas between cells, or, for {@code
 * ?decimal=comma}, the way most of Europe has it.
 */
record CsvDialect(char separator, char decimal) {
  static final String PARAMETER = "decimal";

  static final CsvDialect POINT = new CsvDialect(',', '.');
  static final CsvDialect COMMA = new CsvDialect(';', ',');

  static CsvDialect of(Context ctx) {
    String decimal = ctx.queryParam(PARAMETER);
    if (decimal == null || decimal.equals("point")) {
      return POINT;
    }
    if (decimal.equals("comma")) {
      return COMMA;
    }
    String reason = "decimal=" + decimal + " is not known; use decimal=point or decimal=comma.";
    throw new ProblemException(
        Problem.Kind.INVALID_REQUEST, reason, List.of(Problem.Item.of(PARAMETER, reason)));
  }
}
