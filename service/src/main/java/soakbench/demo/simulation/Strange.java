package soakbench.demo.simulation;

import java.util.Locale;

/**
 * What a tracker of the mix {@link Mix#STRANGE} has beside a usual life, by turns. None of it is
 * like what the verdict believes in; it is for looking what happens then, never for tuning.
 */
public enum Strange {
  /** A slower mass about the body, of 2500 s. */
  TWO_SLOW_MASSES,
  /** A heating cycle of 3 degC. */
  ROOM_OF_3_C,
  /** Picked up by a warm hand every five minutes. */
  HANDLED,
  BODY_OF_60_S,
  BODY_OF_3000_S,
  /** The steepest axis has 0.1 deg/s for each degC. */
  STEEP_0_1,
  /** The steepest axis has 0.2 deg/s for each degC. */
  STEEP_0_2,
  /** A line in two seconds. */
  HALF_HZ,
  TWO_HZ,
  /** The temperature is read every ten seconds. */
  THERMOMETER_EVERY_10_S;

  /** Which one a seed has. */
  public static Strange of(long seed) {
    return values()[(int) Math.floorMod(seed, values().length)];
  }

  /** The word that files use among the scenarios. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
