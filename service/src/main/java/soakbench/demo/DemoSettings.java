package soakbench.demo;

import java.time.Duration;
import java.time.Instant;

/**
 * How the demo runs.
 *
 * @param speed simulated seconds in a second, as long as simulated time lies in the past; 1 to 200
 * @param seed what the trackers, their noise and their later soaks are drawn from
 * @param startInstant simulated time at which it begins
 */
public record DemoSettings(double speed, long seed, Instant startInstant) {
  /** A rack in a hurry that one can still follow. */
  public static final double DEFAULT_SPEED = 30;

  public static final long DEFAULT_SEED = 20260301;

  /** How far in the past a demo begins: 12.4 minutes of watching at the default speed. */
  public static final Duration HEAD_START = Duration.ofHours(6);

  /**
   * @throws IllegalArgumentException if the speed is not within 1 to 200
   */
  public DemoSettings {
    if (!(speed >= 1 && speed <= 200)) {
      throw new IllegalArgumentException(
          "a speed of " + speed + " is outside 1 to 200 simulated seconds a second");
    }
  }

  /** The default seed, begun {@link #HEAD_START} before now. */
  public static DemoSettings at(double speed, Instant now) {
    return new DemoSettings(speed, DEFAULT_SEED, now.minus(HEAD_START));
  }
}
