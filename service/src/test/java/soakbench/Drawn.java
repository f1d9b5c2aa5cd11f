package soakbench;

import java.util.Random;
import java.util.function.Consumer;

/**
 * Values drawn from a seed, for checks that must hold of all values: the edges of a range come more
 * often than their share, since mistakes sit there.
 */
public final class Drawn {
  private static final double EDGE_SHARE = 0.1;
  private static final int LONGEST_TEXT = 60;

  private final Random random;

  private Drawn(long seed) {
    random = new Random(seed);
  }

  /**
   * Checks so many cases. A failure names the seed of its case: {@code -Dsoakbench.test.seed} of
   * that seed begins with it.
   */
  public static void cases(int count, Consumer<Drawn> check) {
    casesFrom(Long.getLong("soakbench.test.seed", System.nanoTime()), count, check);
  }

  /** The same cases at every run. */
  public static void casesFrom(long seed, int count, Consumer<Drawn> check) {
    for (long each = seed; each < seed + count; each++) {
      try {
        check.accept(new Drawn(each));
      } catch (AssertionError | RuntimeException e) {
        throw new AssertionError("-Dsoakbench.test.seed=" + each + ": " + e.getMessage(), e);
      }
    }
  }

  /** From low to high, both included. */
  public long from(long low, long high) {
    if (edge()) {
      long[] edges = {low, high, low <= 0 && high >= 0 ? 0 : low, Math.min(low + 1, high)};
      return edges[random.nextInt(edges.length)];
    }
    return high == Long.MAX_VALUE ? random.nextLong() : random.nextLong(low, high + 1);
  }

  /** From low to high, both included. */
  public int from(int low, int high) {
    return (int) from((long) low, (long) high);
  }

  /** From low to high, both included. */
  public double from(double low, double high) {
    if (edge()) {
      return random.nextBoolean() ? low : high;
    }
    return low + (high - low) * random.nextDouble();
  }

  public boolean either() {
    return random.nextBoolean();
  }

  public <T> T of(T[] all) {
    return all[random.nextInt(all.length)];
  }

  /** Any number there is in single precision, very small ones as likely as others. */
  public float anyFloat() {
    float value = Float.intBitsToFloat(random.nextInt());
    return Float.isFinite(value) ? value : anyFloat();
  }

  /** Any characters, those with a meaning in tables and formulas more often. */
  public String text() {
    StringBuilder text = new StringBuilder();
    int length = random.nextInt(LONGEST_TEXT);
    while (text.length() < length) {
      text.appendCodePoint(
          random.nextBoolean() ? "=+-@\t\r\n'\";, x1".charAt(random.nextInt(14)) : character());
    }
    return text.toString();
  }

  private int character() {
    int any = random.nextInt(random.nextBoolean() ? 0x80 : Character.MAX_CODE_POINT + 1);
    return any >= Character.MIN_SURROGATE && any <= Character.MAX_SURROGATE ? 'y' : any;
  }

  /** For what draws more than the methods here know. */
  public Random random() {
    return random;
  }

  private boolean edge() {
    return random.nextDouble() < EDGE_SHARE;
  }
}
