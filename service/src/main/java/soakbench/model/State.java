package soakbench.model;

import java.util.Locale;

/** What a tracker is doing, highest first where several hold. Every instant has exactly one. */
public enum State {
  /** Nothing heard for ten seconds. */
  SILENT,
  /** Too hot, or heating too fast, for its battery. */
  HOT,
  /** Moved within the last minute. */
  DISTURBED,
  /** Ready to calibrate. */
  READY,
  /** In the band, but this noise or this stream allows no decision. */
  UNDECIDED,
  /** In the band, not settled. */
  SOAKING,
  /** Settled, or heading for a plateau, outside the band: it will not be ready as it lies. */
  STALLED,
  /** Below the band and rising. */
  WARMING,
  /** Above the band and falling, or falling out of it. */
  COOLING,
  /** Too little heard to say. */
  STARTING;

  /** The word that people and programs see. */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }
}
