package soakbench.model;

import java.util.Locale;

/**
 * Why there should be an alarm now.
 *
 * @param kind what is wrong
 * @param severity how bad it is
 * @param about whom or what it is about
 * @param found the number that was found; null where there is none
 * @param message what is wrong, in a sentence
 * @param advice what to do, in a sentence
 */
public record AlarmCause(
    Kind kind, Severity severity, About about, Found found, String message, String advice) {

  /** What is wrong. */
  public enum Kind {
    /** A tracker is too hot for its battery. */
    HOT,
    /** A tracker heats too fast. */
    FAST_RISE,
    /** A tracker is not too hot yet, but heads for it. */
    HEADING_HOT,
    /** A tracker fell silent in its soak: nobody sees how hot it is. */
    SILENT,
    /** Most trackers of one rack fell silent together: its cable, its hub or the network. */
    RACK_SILENT,
    /** Samples wait on disk and the place for them runs out. */
    SPOOL_FILLING,
    /** The database's disk runs out. */
    ROOM_LOW,
    /** The rack is not read any more. */
    READING_STOPPED,
    /** The database can't be used, so nothing is judged. */
    DATABASE_AWAY;

    /**
     * Whether it is about heat: it goes before all others, and is shown until somebody has seen it.
     */
    public boolean heat() {
      return this == HOT || this == FAST_RISE || this == HEADING_HOT;
    }

    /** The word that people and programs see. */
    public String word() {
      return name().toLowerCase(Locale.ROOT);
    }
  }

  /** How bad it is. */
  public enum Severity {
    /** Somebody should look soon. */
    WARNING,
    /** Somebody should go there now. */
    SEVERE
  }

  /**
   * Whom or what it is about.
   *
   * @param tracker null where it is about none
   * @param rack the rack that it is about as a whole, empty for the trackers that have none; null
   *     where it is about no rack
   */
  public record About(String tracker, String rack) {}

  /**
   * What was found.
   *
   * @param value in {@code unit}
   * @param limit what it should stay below, in {@code unit}
   * @param unit unit of both
   */
  public record Found(double value, double limit, String unit) {}

  /** One about a tracker, or about none where that is null, that has no number. */
  public static AlarmCause plain(
      Kind kind, Severity severity, String tracker, String message, String advice) {
    return new AlarmCause(kind, severity, new About(tracker, null), null, message, advice);
  }

  /** One about a rack as a whole. */
  public static AlarmCause ofRack(
      Kind kind, Severity severity, String rack, String message, String advice) {
    return new AlarmCause(kind, severity, new About(null, rack), null, message, advice);
  }
}
