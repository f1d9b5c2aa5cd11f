package soakbench.lines;

/**
 * Why a line gave no reading.
 *
 * @param kind what it is counted under
 * @param reason one sentence with the value, its unit and what was allowed
 * @param untimed what the line says but for its time, where that alone is wrong: a reading for who
 *     knows when it arrived; else null
 */
public record Rejection(Kind kind, String reason, Reading untimed) implements LineResult {

  /** Of a line that is of no use. */
  public Rejection(Kind kind, String reason) {
    this(kind, reason, null);
  }

  /** Kinds of lines that give no reading. */
  public enum Kind {
    /** Text that isn't meant as data: boot messages, logs, a wrong baud rate. */
    CHATTER,
    /** Data that ends too early or begins too late. */
    HALF_LINE,
    /** Longer than {@link LineSplitter#LONGEST_LINE} bytes. */
    OVER_LONG,
    /** Meant as data but not well formed. */
    MALFORMED,
    /** Comma-separated numbers, but no header line said what they are. */
    NO_HEADER,
    /** Data without temperature and without rates. */
    NO_CHANNELS,
    /** A number that the part can't have measured. */
    ABSURD_VALUE,
    /** An id with characters or a length that ids don't have. */
    BAD_ID,
    /** No id in the line and none set for its source. */
    NO_ID,
    /** A time that isn't RFC 3339 or lies outside 2000 to 2100. */
    BAD_TIME,
    /** A recording's line with nothing that says when it was taken. */
    NO_TIME,
    /** Not later than the tracker's line before it: sent twice, or out of order. */
    NOT_RISING,
    /** The id comes from another source already: two trackers of one id, or one heard twice. */
    OTHER_SOURCE,
    /** It was good, but this program failed to take it. */
    FAULT
  }
}
