package soakbench.api.sheet;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.List;
import soakbench.api.http.CellErrors;
import soakbench.api.http.CsvDialect;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.SpreadsheetCsv;

/**
 * How cells are answered.
 *
 * @param dialect numbers, times and truth
 * @param unknown what stands for a figure that is not known; null for the reason
 */
record CellForm(CsvDialect dialect, String unknown) {
  private static final String UNKNOWN = "unknown";
  private static final String REASON = "reason";
  private static final int LONGEST = 40;

  static CellForm of(Context ctx) {
    CellErrors.check(ctx);
    String asked = QueryParameters.text(ctx, UNKNOWN);
    if (asked != null
        && (asked.length() > LONGEST || asked.codePoints().anyMatch(Character::isISOControl))) {
      throw QueryParameters.invalid(
          UNKNOWN, "unknown must be a word of at most " + LONGEST + " printable characters.");
    }
    String word = asked == null ? "" : asked;
    return new CellForm(CsvDialect.of(ctx), word.equals(REASON) ? null : word);
  }

  /** What may be asked of cells, and some parameters more. */
  static String[] parameters(String... own) {
    List<String> all = new ArrayList<>(List.of(own));
    all.add(UNKNOWN);
    all.add(CellErrors.PARAMETER);
    all.addAll(CsvDialect.PARAMETERS);
    return all.toArray(String[]::new);
  }

  /** The text of a cell. */
  String text(Cell.Found found) {
    if (found.value() != null) {
      return SpreadsheetCsv.cell(found.value(), dialect);
    }
    return unknown == null ? SpreadsheetCsv.cell(reason(found), dialect) : unknown;
  }

  private static String reason(Cell.Found found) {
    return found.reason() == null ? "not known" : found.reason();
  }
}
