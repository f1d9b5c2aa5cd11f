package soakbench.lines;

import java.util.Arrays;

/**
 * Cuts a stream of bytes into lines, however the stream is cut up itself. A line ends with LF or
 * CRLF. Works on bytes, so that garbage can't become an error of decoding. Not thread-safe.
 */
public final class LineSplitter {
  /** Longest line, bytes, without its end. */
  public static final int LONGEST_LINE = 4096;

  /** Receives the lines. The array is the caller's: it is reused after the call. */
  public interface Lines {
    /** One line without its end. */
    void line(byte[] bytes, int offset, int length);

    /** A line of more than {@link #LONGEST_LINE} bytes, of which these are the first. */
    void overLong(byte[] bytes, int offset, int length);
  }

  private final Lines lines;

  /** Beginning of a line whose end hasn't come; one byte longer for the CR of a CRLF. */
  private final byte[] begun = new byte[LONGEST_LINE + 1];

  private int begunLength;
  private boolean skipping;

  public LineSplitter(Lines lines) {
    this.lines = lines;
  }

  /** Takes the next bytes and passes on every line that they complete. */
  public void feed(byte[] bytes, int offset, int length) {
    int from = offset;
    int end = offset + length;
    for (int i = offset; i < end; i++) {
      if (bytes[i] == '\n') {
        complete(bytes, from, i - from);
        from = i + 1;
      }
    }
    keep(bytes, from, end - from);
  }

  /** Passes on what came after the last line end as a line: for a file's end. */
  public void end() {
    complete(begun, 0, 0);
  }

  /**
   * Drops the line that was begun, as its rest will never come.
   *
   * @return its bytes so far; empty where none was begun
   */
  public byte[] cut() {
    byte[] dropped = skipping ? new byte[0] : Arrays.copyOf(begun, begunLength);
    begunLength = 0;
    skipping = false;
    return dropped;
  }

  private void complete(byte[] bytes, int offset, int length) {
    if (skipping) {
      skipping = false;
    } else if (begunLength == 0) {
      passOn(bytes, offset, length);
    } else {
      keep(bytes, offset, length);
      if (!skipping) {
        passOn(begun, 0, begunLength);
      }
      skipping = false;
    }
    begunLength = 0;
  }

  private void keep(byte[] bytes, int offset, int length) {
    if (skipping || length == 0) {
      return;
    }
    int taken = Math.min(length, begun.length - begunLength);
    System.arraycopy(bytes, offset, begun, begunLength, taken);
    begunLength += taken;
    boolean full = taken < length || begunLength == begun.length && begun[LONGEST_LINE] != '\r';
    if (full) {
      lines.overLong(begun, 0, LONGEST_LINE);
      begunLength = 0;
      skipping = true;
    }
  }

  private void passOn(byte[] bytes, int offset, int length) {
    boolean carriageReturn = length > 0 && bytes[offset + length - 1] == '\r';
    int bare = carriageReturn ? length - 1 : length;
    if (bare > LONGEST_LINE) {
      lines.overLong(bytes, offset, LONGEST_LINE);
    } else {
      lines.line(bytes, offset, bare);
    }
  }
}
