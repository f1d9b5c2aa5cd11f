package soakbench.api.sheet;

import java.io.IOException;
import java.io.OutputStream;
import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDateTime;
import java.time.ZoneId;
import java.util.List;
import org.dhatim.fastexcel.Workbook;
import org.dhatim.fastexcel.Worksheet;
import soakbench.api.figures.ColumnUnits;
import soakbench.api.http.Column;
import soakbench.api.http.CsvDialect;
import soakbench.api.http.Json;
import soakbench.api.http.SpreadsheetCsv;
import soakbench.api.http.TrackerFilter;

/**
 * Tables as a workbook (Office Open XML), one sheet each: numbers, times and truth values are what
 * they are in every language, so nothing has to be read out of text. Written row by row.
 */
final class TableWorkbook {
  static final String PROGRAM = "Soakbench";
  static final String VERSION = "1.0";

  private static final String TIME_FORMAT = "yyyy-mm-dd hh:mm:ss";
  private static final int LONGEST_TEXT = 32_000;
  private static final int ROWS_AT_ONCE = 1_000;

  private final TrackerFilter which;
  private final ZoneId zone;

  /**
   * @param zone of all times: a cell has none of its own
   */
  TableWorkbook(TrackerFilter which, ZoneId zone) {
    this.which = which;
    this.zone = zone;
  }

  void write(OutputStream out, List<SheetTable<?>> tables) throws IOException {
    try (Workbook book = new Workbook(out, PROGRAM, VERSION)) {
      for (SheetTable<?> table : tables) {
        sheet(book, table);
      }
      columns(book, tables);
    }
  }

  private <T> void sheet(Workbook book, SheetTable<T> of) throws IOException {
    List<Column<T>> columns = of.table().columns();
    List<T> rows = of.rows().apply(which);
    Worksheet sheet = begun(book, of.name(), columns.stream().map(Column::name).toList());
    for (int i = 0; i < rows.size(); i++) {
      for (int j = 0; j < columns.size(); j++) {
        cell(sheet, i + 1, j, columns.get(j).of().apply(rows.get(i)));
      }
      if (i % ROWS_AT_ONCE == ROWS_AT_ONCE - 1) {
        sheet.flush();
      }
    }
    sheet.finish();
  }

  /** What each column is, and in which zone times are told. */
  private void columns(Workbook book, List<SheetTable<?>> tables) throws IOException {
    Worksheet sheet = begun(book, "columns", List.of("table", "column", "unit", "address"));
    int row = 1;
    for (SheetTable<?> table : tables) {
      for (Column<?> column : table.table().columns()) {
        sheet.value(row, 0, table.name());
        sheet.value(row, 1, column.name());
        sheet.value(row, 2, column.time() ? zone.getId() : ColumnUnits.of(column.name()));
        sheet.value(row++, 3, table.address());
      }
    }
    sheet.finish();
  }

  private static Worksheet begun(Workbook book, String name, List<String> header) {
    Worksheet sheet = book.newWorksheet(name);
    sheet.freezePane(1, 1);
    for (int i = 0; i < header.size(); i++) {
      sheet.value(0, i, header.get(i));
    }
    sheet.range(0, 0, 0, header.size() - 1).style().bold().set();
    return sheet;
  }

  private void cell(Worksheet sheet, int row, int column, Object value) {
    if (value instanceof Double || value instanceof Float) {
      // The digits of the other tables: as it stands in memory a number has more than are meant.
      String digits = SpreadsheetCsv.cell(value, CsvDialect.POINT);
      if (!digits.isEmpty()) {
        sheet.value(row, column, new BigDecimal(digits));
      }
    } else if (value instanceof Number number) {
      sheet.value(row, column, number);
    } else if (value instanceof Boolean truth) {
      sheet.value(row, column, truth);
    } else if (value instanceof Instant time) {
      sheet.value(row, column, LocalDateTime.ofInstant(time, zone));
      sheet.style(row, column).format(TIME_FORMAT).set();
    } else if (value != null) {
      sheet.value(row, column, text(value));
    }
  }

  private static String text(Object value) {
    String text = value instanceof Enum<?> word ? Json.word(word) : value.toString();
    return text.length() > LONGEST_TEXT ? text.substring(0, LONGEST_TEXT) + "…" : text;
  }
}
