package soakbench.ingest.rackfile;

/**
 * How far from its arrival a line's own timestamp may lie to be trusted on a live input.
 *
 * @param aheadUs how far ahead, microseconds
 * @param behindUs how far behind, microseconds
 * @param believed whether any timestamp is trusted: for a simulated rack, whose time runs faster
 *     than ours
 */
public record StampTolerance(long aheadUs, long behindUs, boolean believed) {
  private static final long BEHIND_US = 600_000_000;

  /** One minute ahead, ten minutes behind. */
  public static final StampTolerance USUAL = ahead(60);

  /** Any timestamp. */
  public static final StampTolerance BELIEVED = new StampTolerance(0, 0, true);

  /** So far ahead, s, and ten minutes behind. */
  static StampTolerance ahead(int aheadS) {
    return new StampTolerance(aheadS * 1_000_000L, BEHIND_US, false);
  }

  public boolean allows(long stampUs, long nowUs) {
    // Not as a difference: a garbled time may lie so far off that it would overflow.
    return stampUs <= nowUs + aheadUs && stampUs >= nowUs - behindUs;
  }
}
