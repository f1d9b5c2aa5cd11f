package soakbench.model;

/**
 * One reading of one tracker. Channels are single precision on purpose: that is how they are
 * stored, so a sample read back from the database equals the one that was judged live. A zero is a
 * zero, with or without the sign that rounding leaves on it ({@code -0.00}).
 *
 * @param tracker the tracker's id
 * @param timeUs when it was taken, microseconds since 1970-01-01T00:00Z; with the tracker, the
 *     sample's key
 * @param temperatureC IMU temperature, degC; NaN where none is known
 * @param temperatureHeld true where the temperature is an earlier one carried forward, so no new
 *     measurement
 * @param gxDps rate about x, deg/s; NaN where the line had no rates
 * @param gyDps rate about y, deg/s; NaN where the line had no rates
 * @param gzDps rate about z, deg/s; NaN where the line had no rates
 * @param axG specific force along x, g; NaN without an accelerometer
 * @param ayG specific force along y, g; NaN without an accelerometer
 * @param azG specific force along z, g; NaN without an accelerometer
 * @param seq the tracker's own line counter, -1 where it sends none
 * @param tMs milliseconds since the tracker's boot (32-bit, wraps), -1 where it sends none
 */
public record Sample(
    String tracker,
    long timeUs,
    float temperatureC,
    boolean temperatureHeld,
    float gxDps,
    float gyDps,
    float gzDps,
    float axG,
    float ayG,
    float azG,
    long seq,
    long tMs) {

  public Sample {
    // A zero of either sign plus zero is zero.
    temperatureC += 0f;
    gxDps += 0f;
    gyDps += 0f;
    gzDps += 0f;
    axG += 0f;
    ayG += 0f;
    azG += 0f;
  }

  /** The same reading with another temperature, degC. */
  public Sample withTemperatureC(float otherC) {
    return new Sample(
        tracker, timeUs, otherC, temperatureHeld, gxDps, gyDps, gzDps, axG, ayG, azG, seq, tMs);
  }

  /** The same reading of another tracker. */
  public Sample of(String other) {
    return new Sample(
        other, timeUs, temperatureC, temperatureHeld, gxDps, gyDps, gzDps, axG, ayG, azG, seq, tMs);
  }

  public boolean hasTemperature() {
    return !Float.isNaN(temperatureC);
  }

  /** Whether the temperature was measured with this very reading. */
  public boolean measuredTemperature() {
    return hasTemperature() && !temperatureHeld;
  }

  public boolean hasRates() {
    return !Float.isNaN(gxDps);
  }

  public boolean hasAcceleration() {
    return !Float.isNaN(axG);
  }

  /** The second (since 1970) whose bin this sample belongs to. */
  public long second() {
    return Math.floorDiv(timeUs, 1_000_000L);
  }
}
