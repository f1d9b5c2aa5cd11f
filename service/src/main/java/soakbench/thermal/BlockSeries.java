package soakbench.thermal;

import java.io.Serializable;
import java.util.Arrays;

/**
 * Growing series of (time, temperature) pairs; plain arrays because fits want arrays. Not
 * thread-safe.
 */
final class BlockSeries implements Serializable {
  private double[] timeS = new double[64];
  private double[] temperatureC = new double[64];
  private int size;

  void add(double tS, double tC) {
    if (size == timeS.length) {
      timeS = Arrays.copyOf(timeS, 2 * size);
      temperatureC = Arrays.copyOf(temperatureC, 2 * size);
    }
    timeS[size] = tS;
    temperatureC[size] = tC;
    size++;
  }

  int size() {
    return size;
  }

  double timeS(int index) {
    return timeS[index];
  }

  double temperatureC(int index) {
    return temperatureC[index];
  }

  /** Times of the blocks from {@code first} on. */
  double[] timesFrom(int first) {
    return Arrays.copyOfRange(timeS, first, size);
  }

  /** Temperatures of the blocks from {@code first} on. */
  double[] temperaturesFrom(int first) {
    return Arrays.copyOfRange(temperatureC, first, size);
  }
}
