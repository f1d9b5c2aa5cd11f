package soakbench.ingest.identity;

/**
 * The highest straight line below a cloud of points: with device time across and the delay of
 * arrival upwards, it's the device's clock without the delays, which only ever add. Of each second
 * the lowest point of the last ten minutes is kept; the line is the edge of their lower convex hull
 * over their mean time, its slope bounded.
 */
final class LowerEnvelope {
  /** Steepest slope, microseconds a second (ppm). Crystals are right to 100, cheap ones to 500. */
  static final double STEEPEST_PPM = 600;

  private static final int BLOCKS = 600;

  // Rings of the lowest point of each one-second block, oldest first from `first`.
  private final double[] timesS = new double[BLOCKS];
  private final double[] delaysUs = new double[BLOCKS];
  private int first;
  private int count;

  private double slopePpm;
  private double offsetUs;

  /** Drops all points but one. */
  void restart(double timeS, double delayUs) {
    first = 0;
    count = 0;
    append(timeS, delayUs);
    fit();
  }

  /** Takes a point; times must not fall. */
  void add(double timeS, double delayUs) {
    int last = count - 1;
    boolean newBlock = Math.floor(timeS) > Math.floor(timesS[at(last)]);
    if (newBlock) {
      append(timeS, delayUs);
    } else if (delayUs < delaysUs[at(last)]) {
      timesS[at(last)] = timeS;
      delaysUs[at(last)] = delayUs;
    }
    if (newBlock || delayUs < delayUs(timeS)) {
      fit();
    }
  }

  /** The line at this time, microseconds. */
  double delayUs(double timeS) {
    return offsetUs + slopePpm * timeS;
  }

  double slopePpm() {
    return slopePpm;
  }

  private int at(int index) {
    return (first + index) % BLOCKS;
  }

  private void append(double timeS, double delayUs) {
    while (count == BLOCKS || count > 0 && timesS[first] < timeS - BLOCKS) {
      first = (first + 1) % BLOCKS;
      count--;
    }
    timesS[at(count)] = timeS;
    delaysUs[at(count)] = delayUs;
    count++;
  }

  private void fit() {
    double slope = count < 2 ? 0 : hullSlope();
    slopePpm = Math.max(-STEEPEST_PPM, Math.min(STEEPEST_PPM, slope));
    offsetUs = Double.POSITIVE_INFINITY;
    for (int i = 0; i < count; i++) {
      offsetUs = Math.min(offsetUs, delaysUs[at(i)] - slopePpm * timesS[at(i)]);
    }
  }

  /** Slope of the lower hull's edge over the mean time (Andrew's monotone chain). */
  private double hullSlope() {
    int[] hull = new int[count];
    int size = 0;
    double sumS = 0;
    for (int i = 0; i < count; i++) {
      while (size >= 2 && !turnsLeft(hull[size - 2], hull[size - 1], at(i))) {
        size--;
      }
      hull[size++] = at(i);
      sumS += timesS[at(i)];
    }
    int edge = 1;
    while (edge < size - 1 && timesS[hull[edge]] < sumS / count) {
      edge++;
    }
    int from = hull[edge - 1];
    int to = hull[edge];
    return (delaysUs[to] - delaysUs[from]) / (timesS[to] - timesS[from]);
  }

  private boolean turnsLeft(int a, int b, int c) {
    double ab = (timesS[b] - timesS[a]) * (delaysUs[c] - delaysUs[a]);
    double ac = (delaysUs[b] - delaysUs[a]) * (timesS[c] - timesS[a]);
    return ab > ac;
  }
}
