package soakbench.lines;

/** What parsing one line gave: a {@link Reading}, a {@link Rejection}, or neither. */
public sealed interface LineResult permits Reading, Rejection, LineResult.Note {

  /** Lines that are neither data nor wrong. */
  enum Note implements LineResult {
    /** Nothing but white space; not counted as a line. */
    BLANK,
    /** A CSV header: it decides the columns of the lines after it. */
    HEADER
  }
}
