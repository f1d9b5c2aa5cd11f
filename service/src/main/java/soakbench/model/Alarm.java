package soakbench.model;

import java.util.Locale;

/**
 * Something that somebody should look at now. A late sign: no safety device.
 *
 * @param id the kind, the tracker or rack where there is one, {@code @} and the time since when:
 *     {@code hot:T-0412@20260301T080006453Z}
 * @param kind what is wrong
 * @param severity how bad it is now, or was at its worst since it was last acknowledged
 * @param tracker whom it is about; null where it is about none
 * @param rack the rack that it is about as a whole, empty for trackers that have none; null where
 *     it is about no rack
 * @param sinceUs since when it holds, by the clock of the data, microseconds since 1970
 * @param untilUs when its cause was gone; null while it holds
 * @param value what was found when it was raised or became worse, in {@code unit}; null where there
 *     is no number
 * @param limit what it should stay below, in {@code unit}; null where there is none
 * @param unit unit of both; null where there are none
 * @param message what is wrong, in a sentence
 * @param advice what to do, in a sentence
 * @param acknowledgedUs when somebody said that it was seen; null while nobody has
 * @param acknowledgedBy who did; null where nobody has or it was not said
 */
public record Alarm(
    String id,
    Kind kind,
    Severity severity,
    String tracker,
    String rack,
    long sinceUs,
    Long untilUs,
    Double value,
    Double limit,
    String unit,
    String message,
    String advice,
    Long acknowledgedUs,
    String acknowledgedBy) {

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

  /** Whether it still holds. */
  public boolean open() {
    return untilUs == null;
  }

  /** Whether nobody has said yet that it was seen. */
  public boolean unseen() {
    return acknowledgedUs == null;
  }
}
