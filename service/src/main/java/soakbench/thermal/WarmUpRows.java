package soakbench.thermal;

import java.util.stream.IntStream;

/**
 * Temperatures of a soak for a fit of its whole curve: means over 2 s at first, so that the chip's
 * own warming is seen, then over 10 s and over a minute. Times are seconds since a stretch began.
 *
 * @param timeS mean time of each row, s
 * @param temperatureC mean of each row, degC
 * @param weight seconds in each row
 */
record WarmUpRows(double[] timeS, double[] temperatureC, double[] weight) {
  private static final double[] UNTIL_S = {300, 3600, Double.POSITIVE_INFINITY};
  private static final double[] LENGTH_S = {2, 10, 60};

  /**
   * Rows of one stretch.
   *
   * @param fromS begin of the stretch, seconds since the soak began; it becomes time 0
   * @param toS end of the stretch, exclusive
   */
  static WarmUpRows of(Temperatures soak, double fromS, double toS) {
    BlockSeries means = new BlockSeries();
    BlockSeries weights = new BlockSeries();
    double sumT = 0;
    double sumC = 0;
    double count = 0;
    double endS = Double.NEGATIVE_INFINITY;
    for (int i = 0; i < soak.timeS().length; i++) {
      double tS = soak.timeS()[i] - fromS;
      if (tS < 0 || tS >= toS - fromS) {
        continue;
      }
      if (tS >= endS) {
        if (count > 0) {
          means.add(sumT / count, sumC / count);
          weights.add(sumT / count, count);
        }
        sumT = 0;
        sumC = 0;
        count = 0;
        endS = endS(tS);
      }
      double weight = soak.seconds()[i];
      sumT += weight * tS;
      sumC += weight * soak.temperatureC()[i];
      count += weight;
    }
    if (count > 0) {
      means.add(sumT / count, sumC / count);
      weights.add(sumT / count, count);
    }
    return new WarmUpRows(
        means.timesFrom(0), means.temperaturesFrom(0), weights.temperaturesFrom(0));
  }

  private static double endS(double tS) {
    int k = 0;
    while (tS >= UNTIL_S[k]) {
      k++;
    }
    return (Math.floor(tS / LENGTH_S[k]) + 1) * LENGTH_S[k];
  }

  int size() {
    return timeS.length;
  }

  double spanS() {
    return size() == 0 ? 0 : timeS[size() - 1] - timeS[0];
  }

  /** How far the temperature went between the stretch's first and last ten seconds, degC. */
  double changeC() {
    return Math.abs(meanC(timeS[size() - 1] - 10, Double.MAX_VALUE) - meanC(0, timeS[0] + 10));
  }

  private double meanC(double fromS, double toS) {
    return IntStream.range(0, size())
        .filter(i -> timeS[i] >= fromS && timeS[i] <= toS)
        .mapToDouble(i -> temperatureC[i])
        .average()
        .orElseThrow();
  }

  /** The rows with {@code fromS <= time < toS}, their times unchanged. */
  WarmUpRows between(double fromS, double toS) {
    int[] in =
        IntStream.range(0, size()).filter(i -> timeS[i] >= fromS && timeS[i] < toS).toArray();
    return new WarmUpRows(
        IntStream.of(in).mapToDouble(i -> timeS[i]).toArray(),
        IntStream.of(in).mapToDouble(i -> temperatureC[i]).toArray(),
        IntStream.of(in).mapToDouble(i -> weight[i]).toArray());
  }
}
