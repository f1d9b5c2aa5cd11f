package soakbench.serial;

import java.util.List;
import java.util.concurrent.TimeUnit;

/**
 * Finds a port's bits per second by listening: where bytes come for a while and are no text, the
 * next of the common rates is tried, round and round; a rate at which lines can be read is kept.
 * Not thread-safe; only {@link #isGarbled} is thread-safe.
 *
 * <p>At a wrong rate the receiver samples the bits of a frame (start bit, eight data bits, stop
 * bit) at wrong places; of the bytes that come out hardly half are printable, while of a tracker's
 * text all are.
 */
public final class BaudSearch {
  /** Where listening begins, and what trackers most often use. */
  public static final int FIRST = 115_200;

  /** The rates that are tried, in this order; common practice, no source. */
  public static final List<Integer> RATES =
      List.of(
          FIRST, 921_600, 460_800, 230_400, 57_600, 38_400, 19_200, 9_600, 1_000_000, 500_000,
          4_800);

  /** How long a port that is read for good may send garbage before the next rate is tried. */
  public static final long PATIENCE_NS = TimeUnit.SECONDS.toNanos(2);

  private static final int FEWEST_BYTES = 24;
  private static final double TEXT_SHARE = 0.9;

  private final long patienceNs;
  private int index;
  private long sinceNs;
  private int bytes;
  private int printable;
  private long readings;
  private volatile boolean garbled;

  /**
   * @param patienceNs how long garbage is listened to before the next rate
   */
  public BaudSearch(long patienceNs) {
    this.patienceNs = patienceNs;
  }

  /** Bits per second to listen at. */
  public int baud() {
    return RATES.get(index);
  }

  /** Whether what came lately could not be read. */
  public boolean isGarbled() {
    return garbled;
  }

  /**
   * Bytes came.
   *
   * @param readingsSoFar how many lines could be read in all by now
   * @return whether {@link #baud} is another one now
   */
  public boolean heard(byte[] heard, int length, long readingsSoFar, long nowNs) {
    if (readingsSoFar > readings) {
      readings = readingsSoFar;
      garbled = false;
      bytes = 0;
      printable = 0;
      return false;
    }
    sinceNs = bytes == 0 ? nowNs : sinceNs;
    count(heard, length);
    return nowNs - sinceNs >= patienceNs && bytes >= FEWEST_BYTES && judge();
  }

  private void count(byte[] heard, int length) {
    bytes += length;
    for (int i = 0; i < length; i++) {
      byte b = heard[i];
      boolean text = b >= 32 && b < 127 || b == '\n' || b == '\r' || b == '\t';
      printable += text ? 1 : 0;
    }
  }

  private boolean judge() {
    garbled = printable < TEXT_SHARE * bytes;
    bytes = 0;
    printable = 0;
    if (garbled) {
      index = (index + 1) % RATES.size();
    }
    return garbled;
  }
}
