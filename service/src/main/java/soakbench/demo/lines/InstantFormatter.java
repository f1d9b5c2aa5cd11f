package soakbench.demo.lines;

import java.nio.charset.StandardCharsets;
import java.time.LocalDateTime;
import java.time.ZoneOffset;
import java.time.format.DateTimeFormatter;

/** RFC 3339 instants with milliseconds; the text of the last whole second is kept. */
final class InstantFormatter {
  private static final DateTimeFormatter SECONDS =
      DateTimeFormatter.ofPattern("uuuu-MM-dd'T'HH:mm:ss");

  private long second = Long.MIN_VALUE;
  private byte[] text = new byte[0];

  /** Writes an instant given in microseconds since 1970, cut to milliseconds. */
  void add(LineBuffer out, long timeUs) {
    long at = Math.floorDiv(timeUs, 1_000_000L);
    if (at != second) {
      second = at;
      text =
          SECONDS
              .format(LocalDateTime.ofEpochSecond(at, 0, ZoneOffset.UTC))
              .getBytes(StandardCharsets.US_ASCII);
    }
    out.add(text).add('.').add(Math.floorMod(timeUs, 1_000_000L) / 1000, 3).add('Z');
  }
}
