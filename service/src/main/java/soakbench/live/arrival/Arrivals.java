package soakbench.live.arrival;

import soakbench.lines.Reading;

/**
 * Hears every reading the moment it arrives, by whichever input, before it is stored and even where
 * its time can't be used: heat is judged on what arrived last, whatever a stamp says.
 */
@FunctionalInterface
public interface Arrivals {
  /** For who keeps no watch, like a replay. */
  Arrivals NOBODY = arrival -> {};

  /** Called on the reading thread: must return at once, must not throw. For any thread. */
  void heard(Arrival arrival);

  /** Which kind of input a reading came by. */
  enum Input {
    /** A port, a datagram or a connection: what comes was measured just now. */
    LIVE,
    /** A request: what comes may be a recording of the past. */
    POSTED
  }

  /**
   * One reading as it arrived.
   *
   * @param tracker the tracker's id
   * @param stampUs what its own time says, right or wrong, microseconds since 1970; {@link
   *     Long#MIN_VALUE} where it says none
   * @param temperatureC IMU temperature, degC; NaN where the line had none
   * @param input how it came
   */
  record Arrival(String tracker, long stampUs, double temperatureC, Input input) {
    /**
     * What a line says of now.
     *
     * @param stampUs its own time, as above
     */
    public static Arrival of(String tracker, Reading line, long stampUs, Input input) {
      // An earlier temperature that was carried forward says nothing of now.
      boolean held = Boolean.TRUE.equals(line.temperatureHeld());
      return new Arrival(tracker, stampUs, held ? Double.NaN : line.temperatureC(), input);
    }

    /** The same of a line that was measured just now. */
    public static Arrival live(String tracker, Reading line) {
      return of(tracker, line, line.timeUs(), Input.LIVE);
    }
  }
}
