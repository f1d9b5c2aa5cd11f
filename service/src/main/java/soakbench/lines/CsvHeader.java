package soakbench.lines;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;

/** The columns of a CSV stream, in their order. */
final class CsvHeader {
  private static final int FEWEST_KNOWN = 2;

  private final Column[] columns;

  private CsvHeader(Column[] columns) {
    this.columns = columns;
  }

  /** The header that this line is: it names at least two known columns. Null where it's none. */
  static CsvHeader of(CsvFields fields) {
    List<Column> columns = new ArrayList<>();
    int known = 0;
    while (fields.next()) {
      Column column = fields.column();
      columns.add(column);
      known += column == null ? 0 : 1;
    }
    return known >= FEWEST_KNOWN ? new CsvHeader(columns.toArray(Column[]::new)) : null;
  }

  /** Whether the line can be a header at all; cheap, as it's asked of every line. */
  static boolean isLikely(byte[] line, int offset, int length) {
    int named = 0;
    boolean fieldBegins = true;
    for (int i = offset; i < offset + length && named < FEWEST_KNOWN; i++) {
      byte b = line[i];
      named += fieldBegins && b >= 'a' && b <= 'z' ? 1 : 0;
      fieldBegins = b == ',' || fieldBegins && (b == ' ' || b == '"' || b == '\t');
    }
    return named >= FEWEST_KNOWN;
  }

  int size() {
    return columns.length;
  }

  /** The column at this place, or null where it isn't known. */
  Column at(int index) {
    return columns[index];
  }

  /**
   * Whether the first column is known. Where it's not, the line may be the rest of a header whose
   * beginning was missed.
   */
  boolean beginsKnown() {
    return columns[0] != null;
  }

  boolean sameAs(CsvHeader other) {
    return other != null && Arrays.equals(columns, other.columns);
  }
}
