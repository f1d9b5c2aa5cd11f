package soakbench.lines;

/**
 * What one line said, before it is known when and by whom. Units are converted already; what a line
 * lacks is NaN (channels), -1 (seq, tMs), {@link #NO_TIME} (times) or null (id).
 *
 * @param id the tracker's id, or null where the line has none
 * @param timeUs the sender's time, microseconds since 1970, or {@link #NO_TIME}
 * @param arrivalUs when a recording's line arrived, microseconds since 1970, or {@link #NO_TIME}
 * @param seq the tracker's line counter, or -1
 * @param tMs milliseconds since boot (0 to 2^32 - 1), or -1
 * @param boot an id of this power-up, or null
 * @param temperatureC IMU temperature, degC, or NaN
 * @param gxDps rate about x, deg/s, or NaN
 * @param gyDps rate about y, deg/s, or NaN
 * @param gzDps rate about z, deg/s, or NaN
 * @param axG specific force along x, g, or NaN
 * @param ayG specific force along y, g, or NaN
 * @param azG specific force along z, g, or NaN
 * @param temperatureHeld null in a tracker's own line. Else the sender has joined temperature and
 *     rates already and the reading is a whole sample: true where its temperature is an earlier one
 *     carried forward
 */
public record Reading(
    String id,
    long timeUs,
    long arrivalUs,
    long seq,
    long tMs,
    String boot,
    float temperatureC,
    float gxDps,
    float gyDps,
    float gzDps,
    float axG,
    float ayG,
    float azG,
    Boolean temperatureHeld)
    implements LineAnswer {

  /** Stands for a time that a line does not carry. */
  public static final long NO_TIME = Long.MIN_VALUE;

  /** A tracker's own line. */
  public Reading(
      String id,
      long timeUs,
      long arrivalUs,
      long seq,
      long tMs,
      String boot,
      float temperatureC,
      float gxDps,
      float gyDps,
      float gzDps,
      float axG,
      float ayG,
      float azG) {
    this(
        id,
        timeUs,
        arrivalUs,
        seq,
        tMs,
        boot,
        temperatureC,
        gxDps,
        gyDps,
        gzDps,
        axG,
        ayG,
        azG,
        null);
  }

  /** Whether nothing is to be joined to it, nor it to anything. */
  public boolean isWhole() {
    return temperatureHeld != null;
  }

  public boolean hasTemperature() {
    return !Float.isNaN(temperatureC);
  }

  public boolean hasRates() {
    return !Float.isNaN(gxDps);
  }
}
