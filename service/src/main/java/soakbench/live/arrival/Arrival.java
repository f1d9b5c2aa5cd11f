package soakbench.live.arrival;

import soakbench.lines.Reading;

/**
 * One reading as it arrived.
 *
 * @param tracker the tracker's id
 * @param stampUs its own timestamp, right or wrong, microseconds since 1970; {@link Long#MIN_VALUE}
 *     where it has none
 * @param temperatureC IMU temperature, degC; NaN where the line had none
 * @param input how it came
 * @param line what it said; null where that is not told
 */
public record Arrival(
    String tracker, long stampUs, double temperatureC, Input input, Reading line) {
  /** Of which only the temperature is told. */
  public Arrival(String tracker, long stampUs, double temperatureC, Input input) {
    this(tracker, stampUs, temperatureC, input, null);
  }

  /** Which kind of input a reading came by. */
  public enum Input {
    /** A port, a datagram or a connection: what comes was measured just now. */
    LIVE,
    /** A request: what comes may be a recording of the past. */
    POSTED,
    /** A file that somebody brings in: nothing of it is of now, however young it is. */
    RECORDED
  }

  /**
   * What a line tells about the present.
   *
   * @param stampUs its own timestamp, as above
   */
  public static Arrival of(String tracker, Reading line, long stampUs, Input input) {
    // An earlier temperature that was carried forward is not live.
    boolean held = Boolean.TRUE.equals(line.temperatureHeld());
    return new Arrival(tracker, stampUs, held ? Double.NaN : line.temperatureC(), input, line);
  }

  /** The same, of a recording. */
  public Arrival recorded() {
    return new Arrival(tracker, stampUs, temperatureC, Input.RECORDED, line);
  }

  /** Of a recording's sample only whose it is matters. */
  public static Arrival recorded(String tracker, long stampUs) {
    return new Arrival(tracker, stampUs, Double.NaN, Input.RECORDED);
  }

  /** The same of a line that was measured just now. */
  public static Arrival live(String tracker, Reading line) {
    return of(tracker, line, line.timeUs(), Input.LIVE);
  }
}
