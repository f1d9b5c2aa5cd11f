package soakbench.demo.simulation;

import java.util.Locale;

/** How rough the life of a random tracker is; {@link Trouble} tells what each mix has of what. */
public enum Mix {
  /** A steady room, nobody touches anything. */
  CLEAN,
  /** Picked up, slow turns, dropouts, chatter, rooms whose heating cycles. */
  USUAL,
  /** Lids opened, settling after power-on, reboots, dirty lines, coarse thermometers as well. */
  NASTY,
  /** The usual with one thing that no such tracker or room should be like, see {@link Strange}. */
  STRANGE;

  /** The word that people and files use. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
