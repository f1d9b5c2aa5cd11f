package soakbench.demo.simulation;

import java.util.Locale;

/** How rough the life of a random tracker is. */
public enum Mix {
  /** A steady room, nobody touches anything. */
  CLEAN,
  /** Picked up, slow turns, dropouts, chatter; one in twenty has a coarse thermometer. */
  USUAL,
  /**
   * Lids opened, heating cycles, settling after power-on, reboots, dirty lines; one in five has a
   * thermometer with steps of 0.5 degC.
   */
  NASTY;

  /** The word that people and files use. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
