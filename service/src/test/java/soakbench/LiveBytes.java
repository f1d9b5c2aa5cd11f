package soakbench;

import java.lang.management.ManagementFactory;
import java.lang.management.MemoryMXBean;

/** How much memory is in use that something still refers to. */
public final class LiveBytes {
  /**
   * The serial collector lets dead objects lie, up to 5 % of the old generation, in three of four
   * collections; the fourth packs all (its MarkSweepAlwaysCompactCount).
   */
  private static final int COLLECTIONS = 4;

  private LiveBytes() {}

  /** The least of what four full collections leave, bytes. */
  public static long now() {
    MemoryMXBean memory = ManagementFactory.getMemoryMXBean();
    long leastBytes = Long.MAX_VALUE;
    for (int i = 0; i < COLLECTIONS; i++) {
      memory.gc();
      leastBytes = Math.min(leastBytes, memory.getHeapMemoryUsage().getUsed());
    }
    return leastBytes;
  }
}
