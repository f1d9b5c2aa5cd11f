package soakbench.lines;

import java.nio.charset.StandardCharsets;
import soakbench.lines.Rejection.Kind;

/**
 * Turns single lines into readings and tells the forms apart by itself: a line that begins with a
 * brace is JSON, a line that names two or more known columns is a CSV header, and lines after a
 * header are its rows. Anything may come between them. Remembers the header, so it serves one
 * source only. With a pattern of the user's own only lines that it matches count. Not for use by
 * several threads at once.
 */
public final class LineParser {
  private static final Rejection CHATTER =
      new Rejection(Kind.CHATTER, "text that is neither JSON nor CSV");
  private static final Rejection NO_HEADER =
      new Rejection(
          Kind.NO_HEADER,
          "comma-separated numbers, but no header line was heard; restart the tracker, "
              + "or set the columns for this slot");
  private static final Rejection BEGINNING_MISSED =
      new Rejection(Kind.HALF_LINE, "the first line heard may lack its beginning");
  private static final int FEWEST_NUMBERS = 3;

  private final PatternLineForm pattern;
  private final JsonLineForm json = new JsonLineForm();
  private final CsvFields fields = new CsvFields();
  private CsvLineForm csv;
  private volatile String form = "";

  /** The form before the newest header, until that header has proved itself by a row; or null. */
  private CsvLineForm before;

  /** For JSON and CSV, told apart by themselves. */
  public LineParser() {
    this(null);
  }

  /**
   * @param spec the source's own line form, or null
   */
  public LineParser(PatternSpec spec) {
    pattern = spec == null ? null : new PatternLineForm(spec);
  }

  /**
   * Takes the columns as known before any header is heard.
   *
   * @param header a header line
   * @throws IllegalArgumentException if the line doesn't name two known columns
   */
  public void presetHeader(String header) {
    byte[] line = header.getBytes(StandardCharsets.UTF_8);
    CsvHeader columns = CsvHeader.of(fields.over(line, 0, line.length));
    if (columns == null) {
      throw new IllegalArgumentException(
          "columns \"" + header + "\" name no two of the known columns (id,t_ms,temp_c,gx_dps,…)");
    }
    csv = new CsvLineForm(columns);
  }

  /** Whether the text is a header line that {@link #presetHeader} takes. */
  public static boolean isHeader(String text) {
    byte[] line = text.getBytes(StandardCharsets.UTF_8);
    return CsvHeader.of(new CsvFields().over(line, 0, line.length)) != null;
  }

  /**
   * The line form of the newest good line: json, csv or pattern; empty before. May be asked by any.
   */
  String form() {
    return form;
  }

  /** What this line says. The line is given without its end. */
  public LineAnswer parse(byte[] line, int offset, int length) {
    return parse(line, offset, length, false);
  }

  /**
   * What this line says if its beginning may have been missed: a row of CSV is not believed then,
   * as a cut number would look like a whole one.
   */
  LineAnswer parseFirst(byte[] line, int offset, int length) {
    return parse(line, offset, length, true);
  }

  private LineAnswer parse(byte[] line, int offset, int length, boolean maybeCut) {
    int from = Ends.begin(line, offset, offset + length);
    int to = Ends.end(line, from, offset + length);
    if (from == to) {
      return LineAnswer.Note.BLANK;
    }
    if (pattern != null) {
      LineAnswer answer = noted("pattern", pattern.parse(line, from, to - from));
      return maybeCut && answer instanceof Reading ? BEGINNING_MISSED : answer;
    }
    if (line[from] == '{') {
      return noted("json", json.parse(line, from, to - from));
    }
    if (CsvHeader.isLikely(line, from, to - from)) {
      CsvHeader header = CsvHeader.of(fields.over(line, from, to - from));
      if (header != null) {
        return header(header, maybeCut);
      }
    }
    return noted("csv", row(line, from, to - from, maybeCut));
  }

  private LineAnswer noted(String name, LineAnswer answer) {
    if (answer instanceof Reading && !form.equals(name)) {
      form = name;
    }
    return answer;
  }

  private LineAnswer header(CsvHeader header, boolean maybeCut) {
    if (maybeCut && !header.beginsKnown()) {
      return BEGINNING_MISSED;
    }
    if (csv == null || !header.sameAs(csv.header())) {
      before = before == null ? csv : before;
      csv = new CsvLineForm(header);
    }
    return LineAnswer.Note.HEADER;
  }

  private LineAnswer row(byte[] line, int offset, int length, boolean maybeCut) {
    if (csv == null) {
      return hasNumbers(line, offset, length) ? NO_HEADER : CHATTER;
    }
    LineAnswer answer = proved(csv.parse(line, offset, length), line, offset, length);
    return maybeCut && answer instanceof Reading ? BEGINNING_MISSED : answer;
  }

  /** Goes back to the header before where a garbled or half one replaced it: rows don't fit it. */
  private LineAnswer proved(LineAnswer answer, byte[] line, int offset, int length) {
    if (before == null || answer instanceof Reading) {
      before = null;
      return answer;
    }
    LineAnswer underOld = before.parse(line, offset, length);
    if (underOld instanceof Reading) {
      csv = before;
      before = null;
      return underOld;
    }
    return answer;
  }

  private boolean hasNumbers(byte[] line, int offset, int length) {
    int numbers = 0;
    fields.over(line, offset, length);
    while (fields.next()) {
      numbers += fields.looksNumeric() ? 1 : 0;
    }
    return numbers >= FEWEST_NUMBERS;
  }

  /** Finds where a line really begins and ends. */
  private static final class Ends {
    private Ends() {}

    static int begin(byte[] line, int from, int to) {
      boolean byteOrderMark =
          to - from >= 3
              && line[from] == (byte) 0xEF
              && line[from + 1] == (byte) 0xBB
              && line[from + 2] == (byte) 0xBF;
      int begin = byteOrderMark ? from + 3 : from;
      while (begin < to && isBlank(line[begin])) {
        begin++;
      }
      return begin;
    }

    static int end(byte[] line, int from, int to) {
      int end = to;
      while (end > from && isBlank(line[end - 1])) {
        end--;
      }
      return end;
    }

    private static boolean isBlank(byte b) {
      return b == ' ' || b == '\t' || b == '\r';
    }
  }
}
