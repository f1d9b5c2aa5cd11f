package soakbench.thermal;

import java.util.Arrays;
import java.util.stream.DoubleStream;
import org.hipparchus.distribution.continuous.TDistribution;
import org.hipparchus.exception.MathRuntimeException;
import soakbench.numerics.ExponentialFit;
import soakbench.numerics.MarkovNoise;

/**
 * Whether a second time constant earns its keep: both models are fitted to the beginning of a
 * stretch and forecast the block after it, again and again with a longer beginning. Never by the
 * fit's own residuals: those hang together, and every added term takes up some of that.
 */
final class HeldOutForecasts {
  private static final double FIRST_S = 120;
  private static final int BLOCKS = 12;
  private static final int LEAST_BLOCKS = 6;
  private static final int LEAST_ROWS = 12;

  /** One-sided level of the margin. */
  private static final double LEVEL = 0.95;

  private HeldOutForecasts() {}

  /**
   * Whether two time constants forecast better than one, by more than the margin's own standard
   * error allows for chance. Blocks ahead in time, each longer than the one before.
   */
  static boolean twoAreBetter(WarmUpRows rows) {
    if (rows.spanS() < 2 * FIRST_S) {
      return false;
    }
    double[] gains =
        Arrays.stream(originsS(rows))
            .map(originS -> gain(rows, originS))
            .filter(Double::isFinite)
            .toArray();
    if (gains.length < LEAST_BLOCKS) {
      return false;
    }
    double mean = DoubleStream.of(gains).average().orElseThrow();
    double square = DoubleStream.of(gains).map(g -> (g - mean) * (g - mean)).sum();
    double se = Math.sqrt(square / (gains.length - 1) / gains.length);
    double margin = new TDistribution(gains.length - 1.0).inverseCumulativeProbability(LEVEL) * se;
    return mean > margin;
  }

  private static double stepOf(WarmUpRows rows) {
    return Math.pow(rows.spanS() / FIRST_S, 1.0 / BLOCKS);
  }

  private static double[] originsS(WarmUpRows rows) {
    double step = stepOf(rows);
    double[] out = new double[BLOCKS];
    for (int k = 0; k < BLOCKS; k++) {
      out[k] = rows.timeS()[0] + FIRST_S * Math.pow(step, k);
    }
    return out;
  }

  /**
   * Logarithm of how much smaller the forecast errors are with two time constants; NaN where a fit
   * does not settle, or the block is empty.
   */
  private static double gain(WarmUpRows rows, double originS) {
    double start = rows.timeS()[0];
    WarmUpRows known = rows.between(0, originS);
    WarmUpRows ahead = rows.between(originS, start + (originS - start) * stepOf(rows));
    if (known.size() < LEAST_ROWS || ahead.size() == 0) {
      return Double.NaN;
    }
    try {
      return Math.log(errorC(known, ahead, 1) / errorC(known, ahead, 2));
    } catch (MathRuntimeException | IllegalArgumentException notSettled) {
      return Double.NaN;
    }
  }

  private static double errorC(WarmUpRows known, WarmUpRows ahead, int count) {
    ExponentialFit.Result fit =
        ExponentialFit.withTimeConstants(count)
            .withNoise(MarkovNoise.white(known.timeS(), known.weight()))
            .roughly()
            .fit(known.timeS(), known.temperatureC());
    double square = 0;
    double weight = 0;
    for (int i = 0; i < ahead.size(); i++) {
      double e = ahead.temperatureC()[i] - fit.at(ahead.timeS()[i]);
      square += ahead.weight()[i] * e * e;
      weight += ahead.weight()[i];
    }
    return Math.sqrt(square / weight);
  }
}
