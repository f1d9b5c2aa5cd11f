package soakbench.api.http;

import de.siegmar.fastcsv.writer.CsvWriter;
import de.siegmar.fastcsv.writer.LineDelimiter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;

/**
 * CSV that spreadsheets read as it is meant. Lines end in CRLF. Text that a spreadsheet would take
 * for a formula gets an apostrophe in front. Numbers have at least five decimals: exactly three
 * would be taken for thousands where the comma is the decimal sign, two for a date.
 */
public final class SpreadsheetCsv {
  private static final int LEAST_DECIMALS = 5;
  private static final MathContext DIGITS = new MathContext(9, RoundingMode.HALF_EVEN);
  private static final String FORMULA_STARTS = "=+-@\t\r";
  private static final char BYTE_ORDER_MARK = '\uFEFF';

  private final CsvWriter csv;
  private final CsvDialect dialect;

  SpreadsheetCsv(OutputStream out, CsvDialect dialect) {
    this.dialect = dialect;
    this.csv =
        CsvWriter.builder()
            .fieldSeparator(dialect.separator())
            .lineDelimiter(LineDelimiter.CRLF)
            .build(out, StandardCharsets.UTF_8);
  }

  void header(List<String> names) {
    List<String> written = new ArrayList<>(names);
    if (dialect.bom()) {
      written.set(0, BYTE_ORDER_MARK + names.get(0));
    }
    csv.writeRecord(written);
  }

  /** One row of text, numbers, times, Booleans, constants or nulls (empty cells). */
  void row(List<?> cells) {
    csv.writeRecord(cells.stream().map(value -> cell(value, dialect)).toList());
  }

  void flush() throws IOException {
    try {
      csv.flush();
    } catch (UncheckedIOException e) {
      throw e.getCause();
    }
  }

  /** What stands in a cell for text, a number, a time, a Boolean or a word; nothing for null. */
  public static String cell(Object value, CsvDialect dialect) {
    if (value == null) {
      return "";
    }
    if (value instanceof Float single) {
      return Float.isFinite(single) ? decimal(new BigDecimal(single.toString()), dialect) : "";
    }
    if (value instanceof Double number && Json.isSingle(number)) {
      return decimal(new BigDecimal(Float.toString(number.floatValue())), dialect);
    }
    if (value instanceof Double number) {
      return Double.isFinite(number) ? decimal(new BigDecimal(number, DIGITS), dialect) : "";
    }
    if (value instanceof Enum<?> constant) {
      return Json.word(constant);
    }
    if (value instanceof Instant time) {
      return dialect.date(time);
    }
    if (value instanceof Boolean truth) {
      return dialect.truth(truth);
    }
    return value instanceof String text ? guarded(text) : value.toString();
  }

  private static String decimal(BigDecimal number, CsvDialect dialect) {
    BigDecimal plain = number.signum() == 0 ? BigDecimal.ZERO : number.stripTrailingZeros();
    if (plain.scale() < LEAST_DECIMALS) {
      plain = plain.setScale(LEAST_DECIMALS);
    }
    return plain.toPlainString().replace('.', dialect.decimal());
  }

  /** The text, with an apostrophe in front where a spreadsheet would run it as a formula. */
  static String guarded(String text) {
    return startsLikeFormula(text) ? "'" + text : text;
  }

  /** The text without the apostrophe that {@link #guarded} put in front. */
  public static String unguarded(String cell) {
    boolean guarded = cell.startsWith("'") && startsLikeFormula(cell.substring(1));
    return guarded ? cell.substring(1) : cell;
  }

  private static boolean startsLikeFormula(String text) {
    return !text.isEmpty() && FORMULA_STARTS.indexOf(text.charAt(0)) >= 0;
  }
}
