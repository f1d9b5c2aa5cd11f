package soakbench.drift.noise;

import java.util.List;
import java.util.Optional;
import soakbench.model.Bin;
import soakbench.model.Bin.Channel;
import soakbench.model.Estimate;

/**
 * N by the scatter of the readings within seconds: their standard deviation over the root of their
 * rate. Right as far as the noise is white from a second down to the readings' own spacing; so the
 * Allan deviation goes first, and this where slower noise or a line hides the slope of -1/2 from
 * it.
 */
final class WithinSeconds {
  /** Fewer readings in a second show no scatter of their own. */
  private static final int LEAST_READINGS = 4;

  private static final int LEAST_FREEDOM = 100;

  /**
   * How well noise that is called white is so within a second, of N (common practice, no source).
   */
  private static final double ASSUMED = 0.05;

  private WithinSeconds() {}

  /**
   * What is said beside it.
   *
   * @param why the Allan deviation does not tell it
   */
  static String note(String why) {
    return "N is by the scatter within seconds ("
        + why
        + "): right where the noise is white up to half the sample rate, too small behind a filter";
  }

  /**
   * N of an axis with 95 % limits, deg/sqrt(h); empty where seconds have too few readings.
   *
   * @param pieces still seconds
   */
  static Optional<Estimate> whiteDegPerSqrtH(List<List<Bin>> pieces, int axis) {
    double squares = 0;
    int freedom = 0;
    for (List<Bin> piece : pieces) {
      for (Bin bin : piece) {
        Channel c = bin.gyroDps()[axis];
        if (c.count() >= LEAST_READINGS) {
          squares += (c.count() - 1) * c.sd() * c.sd() / c.count();
          freedom += c.count() - 1;
        }
      }
    }
    if (freedom < LEAST_FREEDOM || !(squares > 0)) {
      return Optional.empty();
    }
    double square = squares / freedom;
    double variance = square * square * (2.0 / freedom + 4 * ASSUMED * ASSUMED);
    return Optional.of(NoisePart.root(square, variance, NoisePart.DEG_PER_SQRT_H));
  }
}
