package soakbench.lines;

import java.nio.charset.StandardCharsets;

/** Makes anything that came over a wire fit to be shown. */
public final class Printable {
  private static final byte DOT = '.';

  private Printable() {}

  /** The first {@code limit} bytes, with a dot for each that isn't printable ASCII. */
  public static String of(byte[] bytes, int offset, int length, int limit) {
    byte[] shown = new byte[Math.min(length, limit)];
    for (int i = 0; i < shown.length; i++) {
      byte b = bytes[offset + i];
      shown[i] = b >= 32 && b < 127 ? b : DOT;
    }
    return new String(shown, StandardCharsets.US_ASCII);
  }

  static String of(String text, int limit) {
    byte[] bytes = text.getBytes(StandardCharsets.UTF_8);
    return of(bytes, 0, bytes.length, limit);
  }
}
