package soakbench.readiness.estimator;

import java.io.Serializable;

/**
 * What a block's thermometer readings say of the chip's temperature.
 *
 * @param lowC where it lies about one value: that value. Where it lies between two: the lower
 * @param highC the same, or the upper
 * @param sdC standard deviation of the value, or of either bound, degC
 */
record Reading(double lowC, double highC, double sdC) implements Serializable {
  static Reading about(double temperatureC, double sdC) {
    return new Reading(temperatureC, temperatureC, sdC);
  }

  boolean bounds() {
    return highC > lowC;
  }

  double middleC() {
    return (lowC + highC) / 2;
  }

  /**
   * Corrects a belief by it.
   *
   * @return the logarithm of how likely it was
   */
  double update(Belief belief) {
    double expected = belief.meanOf(Thermal.READING);
    return bounds()
        ? belief.updateWithin(Thermal.READING, lowC - expected, highC - expected, sdC)
        : belief.update(Thermal.READING, lowC - expected, sdC * sdC);
  }

  /** How far off a belief's expectation it is, in standard deviations. */
  double innovation(Belief belief) {
    double expected = belief.meanOf(Thermal.READING);
    double sd = Math.sqrt(belief.varianceOf(Thermal.READING) + sdC * sdC);
    double off = Math.max(0, Math.max(lowC - expected, expected - highC));
    return off / sd;
  }
}
