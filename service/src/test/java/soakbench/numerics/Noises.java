package soakbench.numerics;

import java.util.SplittableRandom;

/** Noise for tests, made otherwise than the program models it. */
public final class Noises {
  private Noises() {}

  /** White noise of the given standard deviation. */
  public static double[] white(int n, double sd, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double[] out = new double[n];
    for (int i = 0; i < n; i++) {
      out[i] = sd * random.nextGaussian();
    }
    return out;
  }

  /**
   * Flicker noise of one-sided density B^2 / (pi f), whose Allan floor is 0.664 B, readings a
   * second apart, by spectral synthesis: sines of random phase with the power of their slice of the
   * spectrum, slices evenly spaced in the logarithm of the frequency, from a fifth of a cycle in
   * the record to half the sampling rate.
   */
  public static double[] flicker(int n, double b, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    double low = 0.2 / n;
    double high = 0.5;
    int sines = 240;
    double ratio = Math.pow(high / low, 1.0 / sines);
    double[] out = new double[n];
    for (int k = 0; k < sines; k++) {
      double f = low * Math.pow(ratio, k + random.nextDouble());
      // Power of the slice: B^2 / pi ln(ratio); a sine of amplitude a has a^2 / 2. Amplitude
      // and phase are drawn so that the sum is normal.
      double sd = b * Math.sqrt(Math.log(ratio) / Math.PI);
      addWave(out, f, sd * random.nextGaussian(), sd * random.nextGaussian());
    }
    return out;
  }

  private static void addWave(double[] out, double f, double cosine, double sine) {
    double turnC = Math.cos(2 * Math.PI * f);
    double turnS = Math.sin(2 * Math.PI * f);
    double c = cosine;
    double s = sine;
    for (int i = 0; i < out.length; i++) {
      out[i] += c;
      double next = c * turnC + s * turnS;
      s = s * turnC - c * turnS;
      c = next;
    }
  }

  public static double[] sum(double[] a, double[] b) {
    double[] out = new double[a.length];
    for (int i = 0; i < out.length; i++) {
      out[i] = a[i] + b[i];
    }
    return out;
  }
}
