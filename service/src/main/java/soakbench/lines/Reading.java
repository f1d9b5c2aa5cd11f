package soakbench.lines;

import soakbench.model.Sample;

/**
 * What one line said, before it is known when and by whom. Units are converted already; what a line
 * lacks is NaN (channels), -1 (seq, tMs), {@link #NO_TIME} (times) or null (id).
 *
 * @param id the tracker's id, or null where the line has none
 * @param stamps what it says of when it was taken
 * @param channels what was measured
 * @param temperatureHeld null in a tracker's own line. Else the sender has joined temperature and
 *     rates already and the reading is a whole sample: true where its temperature is an earlier one
 *     carried forward
 */
public record Reading(String id, Stamps stamps, Channels channels, Boolean temperatureHeld)
    implements LineResult {

  /** Stands for a time that a line does not carry. */
  public static final long NO_TIME = Long.MIN_VALUE;

  /**
   * What a line says of when it was taken.
   *
   * @param timeUs the sender's time, microseconds since 1970, or {@link #NO_TIME}
   * @param arrivalUs when a recording's line arrived, microseconds since 1970, or {@link #NO_TIME}
   * @param seq the tracker's line counter, or -1
   * @param tMs milliseconds since boot (0 to 2^32 - 1), or -1
   * @param boot an id of this power-up, or null
   */
  public record Stamps(long timeUs, long arrivalUs, long seq, long tMs, String boot) {}

  /**
   * What was measured.
   *
   * @param temperatureC IMU temperature, degC, or NaN
   * @param gxDps rate about x, deg/s, or NaN
   * @param gyDps rate about y, deg/s, or NaN
   * @param gzDps rate about z, deg/s, or NaN
   * @param axG specific force along x, g, or NaN
   * @param ayG specific force along y, g, or NaN
   * @param azG specific force along z, g, or NaN
   */
  public record Channels(
      float temperatureC, float gxDps, float gyDps, float gzDps, float axG, float ayG, float azG) {}

  /** A tracker's own line. */
  public Reading(String id, Stamps stamps, Channels channels) {
    this(id, stamps, channels, null);
  }

  public long timeUs() {
    return stamps.timeUs;
  }

  public long arrivalUs() {
    return stamps.arrivalUs;
  }

  public long seq() {
    return stamps.seq;
  }

  public long tMs() {
    return stamps.tMs;
  }

  public String boot() {
    return stamps.boot;
  }

  public float temperatureC() {
    return channels.temperatureC;
  }

  /**
   * The reading as a sample.
   *
   * @param timeUs when it was taken, microseconds since 1970
   * @param temperatureC its own temperature, or the one that is joined to it; degC, or NaN
   * @param held whether that temperature is an earlier one carried forward
   */
  public Sample sample(String tracker, long timeUs, float temperatureC, boolean held) {
    return new Sample(
        tracker,
        timeUs,
        temperatureC,
        held,
        channels.gxDps,
        channels.gyDps,
        channels.gzDps,
        channels.axG,
        channels.ayG,
        channels.azG,
        stamps.seq,
        stamps.tMs);
  }

  /** Whether nothing is to be joined to it, nor it to anything. */
  public boolean isWhole() {
    return temperatureHeld != null;
  }

  public boolean hasTemperature() {
    return !Float.isNaN(channels.temperatureC);
  }

  public boolean hasRates() {
    return !Float.isNaN(channels.gxDps);
  }

  /** Whether one of the two has a temperature alone and the other rates alone. */
  public boolean isOtherHalfOf(Reading other) {
    return other != null
        && hasRates() == other.hasTemperature()
        && hasTemperature() == other.hasRates()
        && hasRates() != hasTemperature();
  }
}
