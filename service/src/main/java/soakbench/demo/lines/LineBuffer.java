package soakbench.demo.lines;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/**
 * Text under construction, as bytes. Numbers are written without going through String: a rack at
 * thirty times real time prints thousands of lines a second beside the program that reads them.
 */
public final class LineBuffer {
  private static final long[] POWERS_OF_TEN = {1, 10, 100, 1000, 10_000, 100_000, 1_000_000};

  private byte[] bytes = new byte[1024];
  private int length;

  public int length() {
    return length;
  }

  /** The bytes themselves, valid up to {@link #length}, until the next change. */
  public byte[] bytes() {
    return bytes;
  }

  public void clear() {
    length = 0;
  }

  /** Truncates to the first {@code newLength} bytes. */
  void truncate(int newLength) {
    length = Math.min(length, newLength);
  }

  LineBuffer add(byte[] more) {
    ensureCapacity(more.length);
    System.arraycopy(more, 0, bytes, length, more.length);
    length += more.length;
    return this;
  }

  LineBuffer add(String text) {
    return add(text.getBytes(StandardCharsets.UTF_8));
  }

  LineBuffer add(char ascii) {
    ensureCapacity(1);
    bytes[length++] = (byte) ascii;
    return this;
  }

  /** A whole number, not negative, with at least so many digits. */
  LineBuffer add(long number, int digits) {
    int count = digits;
    while (count < 19 && number >= power(count)) {
      count++;
    }
    ensureCapacity(count);
    long rest = number;
    for (int i = count - 1; i >= 0; i--) {
      bytes[length + i] = (byte) ('0' + rest % 10);
      rest /= 10;
    }
    length += count;
    return this;
  }

  /** A number with a fixed count of decimals, 1 to 6. */
  LineBuffer add(double number, int decimals) {
    long scaled = Math.round(number * POWERS_OF_TEN[decimals]);
    if (scaled < 0) {
      add('-');
      scaled = -scaled;
    }
    return add(scaled / POWERS_OF_TEN[decimals], 1)
        .add('.')
        .add(scaled % POWERS_OF_TEN[decimals], decimals);
  }

  private static long power(int exponent) {
    long power = 1;
    for (int i = 0; i < exponent; i++) {
      power *= 10;
    }
    return power;
  }

  private void ensureCapacity(int more) {
    if (length + more > bytes.length) {
      bytes = Arrays.copyOf(bytes, Math.max(bytes.length * 2, length + more));
    }
  }
}
