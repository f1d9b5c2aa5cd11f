package soakbench.model;

/**
 * Some neighbouring seconds of one tracker put together, so that a long soak can be drawn: nothing
 * that stuck out is lost. Arrays have three entries, x y z.
 *
 * @param fromSecond start of the first second, whole seconds since 1970
 * @param endSecond end of the last, whole seconds since 1970
 * @param seconds how many seconds between the two have readings
 * @param boot how often the tracker was seen to reboot before the last of them
 * @param temperatureC the temperature
 * @param gyroDps the rates, deg/s
 * @param accelG the specific force, g
 * @param gyroSdDps greatest standard deviation of any axis' rates within one second, deg/s: large
 *     where it was moved; NaN where no second has two readings
 */
public record BinSpan(
    long fromSecond,
    long endSecond,
    int seconds,
    int boot,
    Extent temperatureC,
    Extent[] gyroDps,
    Extent[] accelG,
    double gyroSdDps) {

  /**
   * What one channel's seconds read; all NaN where none did.
   *
   * @param low least mean of a second
   * @param mean mean of the seconds' means
   * @param high greatest mean of a second
   */
  public record Extent(double low, double mean, double high) {

    /** The same to whole steps, {@code steps} of them in one of the channel's unit. */
    public Extent rounded(double steps) {
      return new Extent(rounded(low, steps), rounded(mean, steps), rounded(high, steps));
    }

    /** A value to whole steps; NaN stays. */
    public static double rounded(double value, double steps) {
      // The division, as a product with the step would bring digits back.
      return Double.isNaN(value) ? value : Math.rint(value * steps) / steps;
    }
  }
}
