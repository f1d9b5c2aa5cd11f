package soakbench.lines;

import soakbench.lines.Rejection.Kind;
import soakbench.model.Tracker;

/** CSV under one header: a row a line. Columns that it doesn't know are passed over. */
final class CsvLineForm {
  private static final Rejection CHATTER =
      new Rejection(Kind.CHATTER, "text that is no row of the columns named by the header");

  private final CsvHeader header;
  private final CsvFields fields = new CsvFields();
  private final ReadingDraft draft = new ReadingDraft();

  CsvLineForm(CsvHeader header) {
    this.header = header;
  }

  CsvHeader header() {
    return header;
  }

  LineResult parse(byte[] line, int offset, int length) {
    int count = 0;
    fields.over(line, offset, length);
    while (fields.next()) {
      count++;
    }
    if (count == header.size()) {
      return row(line, offset, length);
    }
    return count > 1 && beginsLikeARow(line, offset, length) ? wrongCount(count) : CHATTER;
  }

  /** Whether all fields but the last fit their columns; the last of a half line is cut itself. */
  private boolean beginsLikeARow(byte[] line, int offset, int length) {
    fields.over(line, offset, length);
    for (int i = 0; i < header.size() && fields.next() && !fields.last(); i++) {
      if (!fits(header.at(i))) {
        return false;
      }
    }
    return true;
  }

  private boolean fits(Column column) {
    if (column == null || fields.isEmpty()) {
      return true;
    }
    return switch (column) {
      case ID, BOOT -> Tracker.isId(fields.text());
      case TIME, ARRIVAL -> Rfc3339.microseconds(fields.text()) != Reading.NO_TIME;
      default -> fields.looksNumeric();
    };
  }

  private Rejection wrongCount(int count) {
    Kind kind = count < header.size() ? Kind.HALF_LINE : Kind.MALFORMED;
    return new Rejection(kind, count + " fields where the header names " + header.size());
  }

  private LineResult row(byte[] line, int offset, int length) {
    draft.clear();
    fields.over(line, offset, length);
    for (int i = 0; fields.next(); i++) {
      Column column = header.at(i);
      if (column != null && !fields.isEmpty()) {
        take(column);
      }
    }
    return draft.finish();
  }

  private void take(Column column) {
    if (column.isText()) {
      draft.text(column, fields.text());
    } else {
      double plain = fields.plainDecimal();
      draft.number(column, Double.isNaN(plain) ? number(column) : plain);
    }
  }

  /** The field's number, NaN where it says so itself; anything else is malformed. */
  private double number(Column column) {
    Double number = Decimal.of(fields.text());
    if (number == null) {
      String shown = "\"" + Printable.of(fields.text(), 40) + "\"";
      draft.reject(Kind.MALFORMED, column.label() + " " + shown + " is not a number");
      return 0;
    }
    return number;
  }
}
