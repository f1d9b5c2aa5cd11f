package soakbench.numerics;

import java.util.Arrays;
import java.util.Optional;

/**
 * A line in the spectrum of evenly spaced readings: a peak of the periodogram far above the middle
 * of its neighbours (after Fisher, Proc. R. Soc. A 125, 1929, with a background that may slope).
 *
 * @param frequencyPerReading cycles a reading, above 0, at most 0.5
 * @param share part of the readings' variance that it makes
 */
public record SpectralLine(double frequencyPerReading, double share) {
  private static final int LEAST = 64;
  private static final int BESIDE = 24;

  /** Of the median; noise alone passes this in fewer than one record of a thousand. */
  private static final double MOST = 24 / Math.log(2);

  /** Of the neighbours' mean. */
  private static final double GLANCE = 5;

  /** Below this many cycles in the record a drift looks like a line. */
  private static final int LEAST_CYCLES = 8;

  /**
   * The greatest line that noise does not explain.
   *
   * @param readings no NaN; only the last power of two of them are looked at
   */
  public static Optional<SpectralLine> in(double[] readings) {
    int n = Integer.highestOneBit(Math.max(1, readings.length));
    if (n < LEAST) {
      return Optional.empty();
    }
    double[] power =
        periodogram(Arrays.copyOfRange(readings, readings.length - n, readings.length));
    double total = 0;
    for (double p : power) {
      total += p;
    }
    int peak = -1;
    double most = MOST;
    double[] sums = sums(power);
    for (int k = LEAST_CYCLES; k < power.length; k++) {
      double background = stands(power, sums, k) ? background(power, k) : power[k];
      if (power[k] > most * background) {
        most = power[k] / background;
        peak = k;
      }
    }
    return peak < 0
        ? Optional.empty()
        : Optional.of(new SpectralLine(peak / (double) n, around(power, peak) / total));
  }

  private static double[] sums(double[] power) {
    double[] sums = new double[power.length + 1];
    for (int k = 0; k < power.length; k++) {
      sums[k + 1] = sums[k] + power[k];
    }
    return sums;
  }

  /** Spares the medians where a glance shows that it is no line. */
  private static boolean stands(double[] power, double[] sums, int k) {
    int from = Math.max(1, k - BESIDE);
    int to = Math.min(power.length, k + 1 + BESIDE);
    double others = sums[to] - sums[from] - around(power, k);
    return power[k] * (to - from - 3) > GLANCE * others;
  }

  private static double around(double[] power, int k) {
    double sum = power[k];
    sum += k > 0 ? power[k - 1] : 0;
    return sum + (k + 1 < power.length ? power[k + 1] : 0);
  }

  /**
   * The greater of the medians on both sides, so that a steep spectrum is no line; without the
   * nearest, which the peak itself reaches.
   */
  private static double background(double[] power, int k) {
    double below = median(power, Math.max(1, k - BESIDE), k - 2);
    double above = median(power, k + 3, Math.min(power.length, k + 1 + BESIDE));
    return Math.max(below, above);
  }

  private static double median(double[] power, int from, int to) {
    if (to <= from) {
      return 0;
    }
    double[] sorted = Arrays.copyOfRange(power, from, to);
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }

  /** Powers at 0 to n/2 - 1 cycles in the record, about the mean, under a Hann window. */
  private static double[] periodogram(double[] readings) {
    int n = readings.length;
    double mean = Arrays.stream(readings).average().orElse(0);
    double[] re = new double[n];
    double[] im = new double[n];
    for (int i = 0; i < n; i++) {
      re[i] = (readings[i] - mean) * (1 - Math.cos(2 * Math.PI * (i + 0.5) / n));
    }
    transform(re, im);
    double[] power = new double[n / 2];
    for (int k = 1; k < power.length; k++) {
      power[k] = re[k] * re[k] + im[k] * im[k];
    }
    return power;
  }

  /** Fourier transform in place (Cooley and Tukey 1965); the length is a power of two. */
  private static void transform(double[] re, double[] im) {
    int n = re.length;
    for (int i = 1, j = 0; i < n; i++) {
      int bit = n >> 1;
      for (; (j & bit) != 0; bit >>= 1) {
        j ^= bit;
      }
      j ^= bit;
      if (i < j) {
        double t = re[i];
        re[i] = re[j];
        re[j] = t;
        t = im[i];
        im[i] = im[j];
        im[j] = t;
      }
    }
    double[] cosine = new double[n / 2];
    double[] sine = new double[n / 2];
    for (int k = 0; k < n / 2; k++) {
      cosine[k] = Math.cos(-2 * Math.PI * k / n);
      sine[k] = Math.sin(-2 * Math.PI * k / n);
    }
    for (int length = 2; length <= n; length *= 2) {
      for (int from = 0; from < n; from += length) {
        butterflies(re, im, from, length / 2, cosine, sine);
      }
    }
  }

  private static void butterflies(
      double[] re, double[] im, int from, int half, double[] cosine, double[] sine) {
    int step = cosine.length / half;
    for (int k = 0, i = from; k < half; k++, i++) {
      double c = cosine[k * step];
      double s = sine[k * step];
      double r = re[i + half] * c - im[i + half] * s;
      double m = re[i + half] * s + im[i + half] * c;
      re[i + half] = re[i] - r;
      im[i + half] = im[i] - m;
      re[i] += r;
      im[i] += m;
    }
  }
}
