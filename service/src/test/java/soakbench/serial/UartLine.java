package soakbench.serial;

import java.io.ByteArrayOutputStream;

/**
 * What a serial receiver makes of a line at another rate than the sender's. Asynchronous frames of
 * one start bit (low), eight data bits, least significant first, and one stop bit (high), as the
 * standards ANSI X3.15/X3.16 (character structure and least significant bit first) and every UART's
 * manual describe them: the receiver waits for a falling edge, looks again half a bit later, and
 * then takes each bit in its middle.
 */
final class UartLine {
  private UartLine() {}

  /** The bytes that a receiver at {@code receiverBaud} gets of a text sent at another rate. */
  static byte[] received(byte[] sent, int senderBaud, int receiverBaud) {
    ByteArrayOutputStream got = new ByteArrayOutputStream();
    double bitsPerSample = (double) senderBaud / receiverBaud;
    double end = 10.0 * sent.length;
    double at = 0;
    while (at < end) {
      if (level(sent, at)) {
        at += bitsPerSample / 16;
        continue;
      }
      if (level(sent, at + bitsPerSample / 2)) {
        at += bitsPerSample / 2;
        continue;
      }
      int value = 0;
      for (int bit = 0; bit < 8; bit++) {
        value |= level(sent, at + (bit + 1.5) * bitsPerSample) ? 1 << bit : 0;
      }
      got.write(value);
      at += 9.5 * bitsPerSample;
    }
    return got.toByteArray();
  }

  /** The line's level at a time in the sender's bits; high after the last byte. */
  private static boolean level(byte[] sent, double bits) {
    int index = (int) (bits / 10);
    if (index >= sent.length) {
      return true;
    }
    int inFrame = (int) (bits - 10.0 * index);
    return switch (inFrame) {
      case 0 -> false;
      case 9 -> true;
      default -> (sent[index] >> (inFrame - 1) & 1) == 1;
    };
  }
}
