package soakbench.thermal;

import java.io.Serializable;

/** The newest seconds of a soak, for slopes over a minute. Not thread-safe. */
public final class RecentBins implements Serializable {
  private final double[] timeS;
  private final double[] temperatureC;
  private final int keep;
  private int size;

  /**
   * @param keep how many are kept at least
   */
  public RecentBins(int keep) {
    this.keep = keep;
    this.timeS = new double[4 * keep];
    this.temperatureC = new double[4 * keep];
  }

  /** Takes the next second: its middle, s, and its mean temperature, degC. */
  public void add(double tS, double tC) {
    if (size == timeS.length) {
      System.arraycopy(timeS, size - keep, timeS, 0, keep);
      System.arraycopy(temperatureC, size - keep, temperatureC, 0, keep);
      size = keep;
    }
    timeS[size] = tS;
    temperatureC[size] = tC;
    size++;
  }

  /** Whether readings come less than once in five seconds. */
  boolean sparse() {
    return size >= 2 && timeS[size - 1] - timeS[size - 2] > 5;
  }

  /**
   * Slope over {@code spanS} seconds that ended {@code agoS} seconds before the newest; null where
   * there are too few.
   */
  public Slope slope(double agoS, double spanS) {
    if (size == 0) {
      return null;
    }
    double to = timeS[size - 1] - agoS;
    int last = size;
    while (last > 0 && timeS[last - 1] > to) {
      last--;
    }
    int first = last;
    while (first > 0 && timeS[first - 1] > to - spanS) {
      first--;
    }
    return last - first < 10 ? null : Slope.of(timeS, temperatureC, first, last - first);
  }
}
