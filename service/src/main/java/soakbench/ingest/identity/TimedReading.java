package soakbench.ingest.identity;

import soakbench.lines.Reading;

/**
 * A reading and when its bytes were read.
 *
 * @param readUs on the arrival clock's running time, microseconds
 */
record TimedReading(Reading reading, long readUs) {
  /** What lines of one power-up are ordered by: the tracker's line counter, else ms since boot. */
  long order() {
    return reading.seq() >= 0 ? reading.seq() : reading.tMs();
  }
}
