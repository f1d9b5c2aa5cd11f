package soakbench.lines;

import soakbench.lines.Rejection.Kind;

/**
 * From the bytes of one source to its readings: cuts lines, reads them, counts what they were. No
 * input makes it fail. Not thread-safe.
 */
public final class LineReader {

  /** Takes readings. */
  @FunctionalInterface
  public interface Readings {
    /** Takes a reading, or says why it can't be used after all; null where it was taken. */
    Rejection take(Reading reading);

    /**
     * Takes what a line says whose own time is wrong, where it is known when it arrived; else gives
     * the rejection back.
     */
    default Rejection takeUntimed(Rejection rejection) {
      return rejection;
    }
  }

  private static final Rejection OVER_LONG =
      new Rejection(Kind.OVER_LONG, "longer than " + LineSplitter.LONGEST_LINE + " bytes");
  private static final Rejection CUT =
      new Rejection(Kind.HALF_LINE, "the port went away in the middle of the line");

  private final LineParser parser;
  private final LineSplitter splitter = new LineSplitter(new Counting());
  private final LineCounters counters;
  private final Readings readings;
  private boolean beginningMissed;

  public LineReader(LineCounters counters, Readings readings) {
    this(counters, readings, null);
  }

  /**
   * @param pattern the source's own line form, or null
   */
  public LineReader(LineCounters counters, Readings readings, PatternSpec pattern) {
    this.parser = new LineParser(pattern);
    this.counters = counters;
    this.readings = readings;
  }

  /** See {@link LineParser#presetHeader}. */
  public void presetHeader(String header) {
    parser.presetHeader(header);
  }

  /** The line form of the newest good line: json, csv or pattern; empty before. */
  public String form() {
    return parser.form();
  }

  /** Takes the next bytes; calls back for each reading that they complete. */
  public void feed(byte[] bytes, int offset, int length) {
    splitter.feed(bytes, offset, length);
  }

  /** Says that no more comes: what follows the last line end is a line too. */
  public void end() {
    splitter.end();
  }

  /**
   * Says that the stream breaks off here and goes on, if at all, perhaps in the middle of a line. A
   * line that was begun is counted as a half line.
   */
  public void interrupted() {
    byte[] begun = splitter.cut();
    if (begun.length > 0) {
      counters.reject(CUT, begun, 0, begun.length);
    }
    beginningMissed = true;
  }

  private final class Counting implements LineSplitter.Lines {
    @Override
    public void line(byte[] bytes, int offset, int length) {
      LineResult result =
          beginningMissed
              ? parser.parseFirst(bytes, offset, length)
              : parser.parse(bytes, offset, length);
      boolean whole = !beginningMissed;
      beginningMissed = false;
      if (result == LineResult.Note.HEADER) {
        counters.header();
      } else if (result instanceof Reading reading) {
        count(readings.take(reading), bytes, offset, length);
      } else if (result instanceof Rejection rejection) {
        boolean usable = whole && rejection.untimed() != null;
        count(usable ? readings.takeUntimed(rejection) : rejection, bytes, offset, length);
      }
    }

    private void count(Rejection why, byte[] bytes, int offset, int length) {
      if (why == null) {
        counters.reading(bytes, offset, length);
      } else {
        counters.reject(why, bytes, offset, length);
      }
    }

    @Override
    public void overLong(byte[] bytes, int offset, int length) {
      beginningMissed = false;
      counters.reject(OVER_LONG, bytes, offset, length);
    }
  }
}
