package soakbench.lines;

import java.nio.charset.StandardCharsets;
import soakbench.lines.Rejection.Kind;

/**
 * Turns single lines into readings and detects the form by itself: a line that begins with a brace
 * is JSON, a line that names two or more known columns is a CSV header, and lines after a header
 * are its rows. Anything may come between them. Remembers the header, so it serves one source only.
 * With a pattern of the user's own only lines that it matches count. Not thread-safe.
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

  /** For JSON and CSV, detected by themselves. */
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

  /** The line form of the newest good line: json, csv or pattern; empty before. Thread-safe. */
  String form() {
    return form;
  }

  /** What this line says. The line is given without its end. */
  public LineResult parse(byte[] line, int offset, int length) {
    return parse(line, offset, length, false);
  }

  /**
   * What this line says if its beginning may have been missed: a row of CSV is not believed then,
   * as a cut number would look like a whole one.
   */
  LineResult parseFirst(byte[] line, int offset, int length) {
    return parse(line, offset, length, true);
  }

  private LineResult parse(byte[] line, int offset, int length, boolean maybeCut) {
    int from = Ends.begin(line, offset, offset + length);
    int to = Ends.end(line, from, offset + length);
    if (from == to) {
      return LineResult.Note.BLANK;
    }
    if (pattern != null) {
      LineResult result = noteForm("pattern", pattern.parse(line, from, to - from));
      return maybeCut && result instanceof Reading ? BEGINNING_MISSED : result;
    }
    if (line[from] == '{') {
      return noteForm("json", json.parse(line, from, to - from));
    }
    if (CsvHeader.isLikely(line, from, to - from)) {
      CsvHeader header = CsvHeader.of(fields.over(line, from, to - from));
      if (header != null) {
        return header(header, maybeCut);
      }
    }
    return noteForm("csv", row(line, from, to - from, maybeCut));
  }

  private LineResult noteForm(String name, LineResult result) {
    if (result instanceof Reading && !form.equals(name)) {
      form = name;
    }
    return result;
  }

  private LineResult header(CsvHeader header, boolean maybeCut) {
    if (maybeCut && !header.beginsKnown()) {
      return BEGINNING_MISSED;
    }
    if (csv == null || !header.sameAs(csv.header())) {
      before = before == null ? csv : before;
      csv = new CsvLineForm(header);
    }
    return LineResult.Note.HEADER;
  }

  private LineResult row(byte[] line, int offset, int length, boolean maybeCut) {
    if (csv == null) {
      return hasNumbers(line, offset, length) ? NO_HEADER : CHATTER;
    }
    LineResult result = proved(csv.parse(line, offset, length), line, offset, length);
    return maybeCut && result instanceof Reading ? BEGINNING_MISSED : result;
  }

  /** Goes back to the header before where a garbled or half one replaced it: rows don't fit it. */
  private LineResult proved(LineResult result, byte[] line, int offset, int length) {
    if (before == null || result instanceof Reading) {
      before = null;
      return result;
    }
    LineResult underOld = before.parse(line, offset, length);
    if (underOld instanceof Reading) {
      csv = before;
      before = null;
      return underOld;
    }
    return result;
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
