package soakbench.ingest.rackfile;

/**
 * How far from its arrival a line's own time may lie to be believed on a live door.
 *
 * @param aheadUs how far ahead, microseconds
 * @param behindUs how far behind, microseconds
 * @param believed whether whatever lines say is believed: for a simulated rack, whose time runs
 *     faster than ours
 */
public record StampRule(long aheadUs, long behindUs, boolean believed) {
  private static final long BEHIND_US = 600_000_000;

  /** One minute ahead, ten minutes behind. */
  public static final StampRule USUAL = ahead(60);

  /** Whatever lines say. */
  public static final StampRule BELIEVED = new StampRule(0, 0, true);

  /** So far ahead, s, and ten minutes behind. */
  static StampRule ahead(int aheadS) {
    return new StampRule(aheadS * 1_000_000L, BEHIND_US, false);
  }

  public boolean allows(long stampUs, long nowUs) {
    // Not as a difference: a garbled time may lie so far off that it would overflow.
    return stampUs <= nowUs + aheadUs && stampUs >= nowUs - behindUs;
  }
}
