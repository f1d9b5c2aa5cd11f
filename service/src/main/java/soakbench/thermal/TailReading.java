package soakbench.thermal;

/**
 * How the tail is read from a {@link TailStretch}: one way for a thermometer whose readings are
 * values, another for one whose readings are intervals.
 */
interface TailReading {

  /**
   * Since how many blocks the model that was followed holds no more, from what the next block
   * reads; 0 while it holds. Asked before the block is added, while there is a model.
   */
  int brokenBlocks(double tS, double temperatureC);

  /** Doubts that the newest block, just added, raises by itself. */
  void added(double tS, double temperatureC);

  /** Reads the tail anew from a stretch that is long enough. */
  void refit();

  /** The model that was followed so far holds no more. */
  void broke();
}
