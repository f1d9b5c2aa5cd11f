package soakbench.lines;

import java.nio.charset.StandardCharsets;

/**
 * Walks over the fields of one CSV line without copying it: blanks around a field and quotes about
 * it are left out. A quoted comma separates like any other; none of our columns holds one.
 */
final class CsvFields {
  private byte[] line;
  private int next;
  private int end;
  private boolean more;
  private int from;
  private int to;

  CsvFields over(byte[] bytes, int offset, int length) {
    line = bytes;
    next = offset;
    end = offset + length;
    more = true;
    return this;
  }

  /** Goes to the next field; false where there is none. */
  boolean next() {
    if (!more) {
      return false;
    }
    int comma = next;
    while (comma < end && line[comma] != ',') {
      comma++;
    }
    from = next;
    to = comma;
    strip();
    more = comma < end;
    next = comma + 1;
    return true;
  }

  /** Whether the current field is the line's last. */
  boolean last() {
    return !more;
  }

  boolean isEmpty() {
    return from == to;
  }

  Column column() {
    boolean lowerCase = !isEmpty() && line[from] >= 'a' && line[from] <= 'z';
    return lowerCase ? Column.named(line, from, to) : null;
  }

  String text() {
    return new String(line, from, to - from, StandardCharsets.UTF_8);
  }

  /** The number that the field says where it is a plain decimal; else NaN. */
  double plainDecimal() {
    return Decimal.plain(line, from, to);
  }

  /** Whether the field is made of the characters of a decimal number. */
  boolean looksNumeric() {
    boolean digit = false;
    for (int i = from; i < to; i++) {
      byte b = line[i];
      boolean isDigit = b >= '0' && b <= '9';
      digit |= isDigit;
      if (!isDigit && b != '.' && b != '-' && b != '+' && b != 'e' && b != 'E') {
        return false;
      }
    }
    return digit;
  }

  private void strip() {
    while (from < to && isBlank(line[from])) {
      from++;
    }
    while (to > from && isBlank(line[to - 1])) {
      to--;
    }
    if (to - from >= 2 && line[from] == '"' && line[to - 1] == '"') {
      from++;
      to--;
    }
  }

  private static boolean isBlank(byte b) {
    return b == ' ' || b == '\t';
  }
}
