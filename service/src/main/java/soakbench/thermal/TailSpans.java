package soakbench.thermal;

/** The spans that a warm-up's tail is read with. */
final class TailSpans {
  /** Length of a block, s. */
  static final double BLOCK_S = 10;

  /** How long the chip's own warming is left out of the tail, s. */
  static final double CHIP_S = 150;

  /** Longest stretch that the tail is read from, s. */
  static final double WINDOW_S = 1200;

  private TailSpans() {}
}
