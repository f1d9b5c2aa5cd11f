package soakbench.lines;

import static java.nio.charset.StandardCharsets.ISO_8859_1;

import java.util.Arrays;
import java.util.Random;

/** Garbage, and good lines that something happened to; the same for the same seed. */
public final class LineMutations {
  private static final byte[] WORDS =
      "{}[]\",:0123456789.-+eE\r abtempgyro_cdpsid#@/=TGA".getBytes(ISO_8859_1);

  private final Random random;

  public LineMutations(long seed) {
    random = new Random(seed);
  }

  /** A line of random bytes, half the time only of those that data are made of; without an LF. */
  public byte[] garbage() {
    byte[] line = new byte[random.nextInt(120)];
    random.nextBytes(line);
    boolean structured = random.nextBoolean();
    for (int i = 0; i < line.length; i++) {
      if (structured) {
        line[i] = WORDS[(line[i] & 0xff) % WORDS.length];
      } else if (line[i] == '\n') {
        line[i] = 0;
      }
    }
    return line;
  }

  /** One of the lines with one to four changes; without an LF. */
  public byte[] mutated(byte[][] good) {
    byte[] line = good[random.nextInt(good.length)];
    for (int changes = 1 + random.nextInt(4); changes > 0 && line.length > 0; changes--) {
      line = changed(line, good);
    }
    return line;
  }

  private byte[] changed(byte[] line, byte[][] good) {
    int place = random.nextInt(line.length);
    return switch (random.nextInt(7)) {
      case 0 -> joined(line, 0, place, line, place + 1, line.length);
      case 1 ->
          joined(
              joined(line, 0, place, new byte[] {any()}, 0, 1),
              0,
              place + 1,
              line,
              place,
              line.length);
      case 2 -> replaced(line, place, any());
      case 3 -> replaced(line, place, notLf((byte) (line[place] ^ 1 << random.nextInt(8))));
      case 4 -> Arrays.copyOf(line, place);
      case 5 -> joined(line, 0, place, line, random.nextInt(place + 1), line.length);
      default -> splice(line, place, good[random.nextInt(good.length)]);
    };
  }

  private byte[] splice(byte[] line, int place, byte[] other) {
    return joined(line, 0, place, other, random.nextInt(other.length), other.length);
  }

  private byte any() {
    return notLf((byte) random.nextInt(256));
  }

  private static byte notLf(byte b) {
    return b == '\n' ? (byte) 'n' : b;
  }

  private static byte[] replaced(byte[] line, int place, byte by) {
    byte[] changed = line.clone();
    changed[place] = by;
    return changed;
  }

  private static byte[] joined(byte[] a, int aFrom, int aTo, byte[] b, int bFrom, int bTo) {
    int from = Math.min(bFrom, bTo);
    byte[] whole = new byte[aTo - aFrom + bTo - from];
    System.arraycopy(a, aFrom, whole, 0, aTo - aFrom);
    System.arraycopy(b, from, whole, aTo - aFrom, bTo - from);
    return whole;
  }
}
