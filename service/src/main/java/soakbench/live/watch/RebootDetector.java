package soakbench.live.watch;

import soakbench.model.Sample;

/**
 * Detects reboots: the tracker's own clock or line counter falls towards zero. A wrap of the 32-bit
 * millisecond counter (after 49.7 days) is none. Not thread-safe.
 */
public final class RebootDetector {
  private static final long WRAP_MS = 1L << 32;
  private static final long NEAR_MS = 3_600_000;
  private static final long SLACK_MS = 2_000;

  private long lastMs = -1;
  private long lastSeq = -1;

  /** Takes the next sample in order of time; true where the tracker rebooted before it. */
  public boolean rebooted(Sample sample) {
    boolean clockFell =
        sample.tMs() >= 0
            && lastMs >= 0
            && sample.tMs() < lastMs - SLACK_MS
            && !(lastMs > WRAP_MS - NEAR_MS && sample.tMs() < NEAR_MS);
    boolean counterFell =
        sample.tMs() < 0 && sample.seq() >= 0 && lastSeq >= 0 && sample.seq() < lastSeq / 2;
    lastMs = sample.tMs() >= 0 ? sample.tMs() : lastMs;
    lastSeq = sample.seq() >= 0 ? sample.seq() : lastSeq;
    return clockFell || counterFell;
  }
}
