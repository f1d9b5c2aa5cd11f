package soakbench.lines;

/** What became of one line: a {@link Reading}, a {@link Rejection}, or nothing to say about. */
public sealed interface LineAnswer permits Reading, Rejection, LineAnswer.Note {

  /** Lines that are neither data nor wrong. */
  enum Note implements LineAnswer {
    /** Nothing but white space; not counted as a line. */
    BLANK,
    /** A CSV header: it decides the columns of the lines after it. */
    HEADER
  }
}
