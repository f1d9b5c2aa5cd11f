package soakbench.demo.unit;

import java.util.SplittableRandom;

/**
 * Flicker noise and rate random walk of one axis, in steps of one second. Flicker is a sum of
 * first-order Markov processes whose time constants are octaves apart. With a variance of B^2 ln 2
 * / pi each, their summed spectrum is B^2 / (2 pi f) between the ends: the flicker noise of IEEE
 * Std 952, whose Allan deviation is flat at B sqrt(2 ln 2 / pi) = 0.664 B.
 */
public final class LowFrequencyNoise {
  private static final int OCTAVES = 14;

  private final double[] decay = new double[OCTAVES];
  private final double[] innovationDps = new double[OCTAVES];
  private final double[] state = new double[OCTAVES];
  private final double walkDps;
  private final SplittableRandom random;
  private double walk;
  private double totalDps;

  public LowFrequencyNoise(Axis axis, SplittableRandom random) {
    this.random = random;
    this.walkDps = axis.noise().walkDpsPerSqrtS();
    double sd = axis.noise().flickerDegPerH() / 3600 * Math.sqrt(Math.log(2) / Math.PI);
    for (int k = 0; k < OCTAVES; k++) {
      decay[k] = Math.exp(-1 / Math.scalb(1.0, k));
      innovationDps[k] = sd * Math.sqrt(1 - decay[k] * decay[k]);
      state[k] = sd * random.nextGaussian();
      totalDps += state[k];
    }
  }

  public void step() {
    walk += walkDps * random.nextGaussian();
    double total = walk;
    for (int k = 0; k < OCTAVES; k++) {
      state[k] = decay[k] * state[k] + innovationDps[k] * random.nextGaussian();
      total += state[k];
    }
    totalDps = total;
  }

  public double dps() {
    return totalDps;
  }
}
