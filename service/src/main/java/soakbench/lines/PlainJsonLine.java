package soakbench.lines;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * Reads the JSON lines that trackers print: a flat object of our keys, plain decimals, text without
 * escapes. It reads such a line some three times as fast as a JSON library, and gives up on
 * anything else, which the library then reads; so what a line means is always what the library
 * says.
 */
final class PlainJsonLine {
  private static final Column[] GYRO_DPS = {Column.GX_DPS, Column.GY_DPS, Column.GZ_DPS};
  private static final Column[] GYRO_RADS = {Column.GX_RADS, Column.GY_RADS, Column.GZ_RADS};
  private static final Column[] ACCEL_G = {Column.AX_G, Column.AY_G, Column.AZ_G};
  private static final Column[] ACCEL_MS2 = {Column.AX_MS2, Column.AY_MS2, Column.AZ_MS2};

  /** A key and the columns that its value fills: one, or three in an array. */
  private record Key(byte[] name, Column... columns) {
    static Key of(String name, Column... columns) {
      return new Key(name.getBytes(StandardCharsets.US_ASCII), columns);
    }
  }

  private static final Key[] KEYS = {
    Key.of("id", Column.ID),
    Key.of("seq", Column.SEQ),
    Key.of("t_ms", Column.T_MS),
    Key.of("temp_c", Column.TEMP_C),
    Key.of("gyro_dps", GYRO_DPS),
    Key.of("accel_g", ACCEL_G),
    Key.of("time", Column.TIME),
    Key.of("arrival", Column.ARRIVAL),
    Key.of("boot", Column.BOOT),
    Key.of("gyro_rads", GYRO_RADS),
    Key.of("accel_ms2", ACCEL_MS2)
  };

  private final byte[][] lastText = new byte[Column.values().length][0];
  private final String[] lastString = new String[Column.values().length];
  private byte[] line;
  private int at;
  private int end;

  /**
   * Fills the draft with what the line says.
   *
   * @return false where it is not such a line; the draft then holds a part of it
   */
  boolean read(byte[] bytes, int offset, int length, ReadingDraft draft) {
    line = bytes;
    at = offset;
    end = offset + length;
    if (!take('{') || !pair(draft)) {
      return false;
    }
    while (take(',')) {
      if (!pair(draft)) {
        return false;
      }
    }
    return take('}') && at == end;
  }

  /** Takes this character with blanks before and after it. */
  private boolean take(char expected) {
    skipBlanks();
    if (at < end && line[at] == expected) {
      at++;
      skipBlanks();
      return true;
    }
    return false;
  }

  private void skipBlanks() {
    while (at < end && line[at] == ' ') {
      at++;
    }
  }

  private boolean pair(ReadingDraft draft) {
    int from = at + 1;
    if (!text()) {
      return false;
    }
    Key key = key(from, at - 1);
    if (key == null || !take(':')) {
      return false;
    }
    return key.columns.length == 1 ? value(key.columns[0], draft) : axes(key.columns, draft);
  }

  private Key key(int from, int to) {
    for (Key key : KEYS) {
      if (is(key.name, from, to)) {
        return key;
      }
    }
    return null;
  }

  private boolean is(byte[] text, int from, int to) {
    if (text.length != to - from) {
      return false;
    }
    for (int i = 0; i < text.length; i++) {
      if (text[i] != line[from + i]) {
        return false;
      }
    }
    return true;
  }

  /** Goes over text in quotes; printable ASCII without escapes only. */
  private boolean text() {
    if (at >= end || line[at] != '"') {
      return false;
    }
    at++;
    while (at < end && line[at] != '"') {
      if (line[at] < ' ' || line[at] == '\\') {
        return false;
      }
      at++;
    }
    at++;
    return at <= end;
  }

  private boolean axes(Column[] columns, ReadingDraft draft) {
    if (!take('[')) {
      return false;
    }
    for (int i = 0; i < columns.length; i++) {
      if (i > 0 && !take(',') || !number(columns[i], draft)) {
        return false;
      }
    }
    return take(']');
  }

  private boolean value(Column column, ReadingDraft draft) {
    if (!column.isText()) {
      return number(column, draft);
    }
    int from = at + 1;
    if (!text()) {
      return false;
    }
    draft.text(column, string(column, from, at - 1));
    return true;
  }

  /** Most lines say the same id as the line before: the same text is made once. */
  private String string(Column column, int from, int to) {
    int which = column.ordinal();
    if (lastString[which] == null || !is(lastText[which], from, to)) {
      lastText[which] = Arrays.copyOfRange(line, from, to);
      lastString[which] = new String(lastText[which], StandardCharsets.US_ASCII);
    }
    return lastString[which];
  }

  private boolean number(Column column, ReadingDraft draft) {
    int from = at;
    while (at < end && (line[at] >= '0' && line[at] <= '9' || line[at] == '.' || line[at] == '-')) {
      at++;
    }
    int first = from < at && line[from] == '-' ? from + 1 : from;
    boolean leadingZero = first + 1 < at && line[first] == '0' && line[first + 1] != '.';
    double value = leadingZero ? Double.NaN : Decimal.plain(line, from, at);
    // The library makes the whole number -0 a plain 0.
    boolean minusZero = value == 0 && at - first == 1 && first > from;
    if (Double.isNaN(value) || minusZero) {
      return false;
    }
    draft.number(column, value);
    return true;
  }
}
