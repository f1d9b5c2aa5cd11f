package soakbench.store.server;

/**
 * How samples and bins are kept where the server has TimescaleDB.
 *
 * @param sampleHours how much time a new chunk of samples covers, h; one of bins covers seven times
 *     as much, as a second of ten samples is one bin
 * @param compressAfterDays how old a chunk's newest row is when it is compressed, days
 */
public record ChunkSettings(int sampleHours, int compressAfterDays) {

  /**
   * A day: of a workshop's 0.6 million samples a day that is 80 MB with the key, so the newest
   * chunks stay in memory, and a year has no more than 365. Thirty days: soaks last hours, at most
   * weeks, so what comes late or is derived again nearly always finds its rows not compressed yet.
   */
  public static final ChunkSettings USUAL = new ChunkSettings(24, 30);

  private static final int BIN_CHUNKS = 7;

  /** How much time a new chunk of bins covers, h. */
  public int binHours() {
    return BIN_CHUNKS * sampleHours;
  }
}
