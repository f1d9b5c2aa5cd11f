package soakbench.ingest.identity;

/**
 * Timestamps a recording that holds nothing but milliseconds since boot: they are counted from the
 * beginning of 2000, as no real date is known. After a reboot it goes on one second later.
 */
final class BootTimeClock {
  /** 2000-01-01T00:00Z, microseconds since 1970. */
  static final long BEGIN_US = 946_684_800_000_000L;

  private static final long WRAP_MS = 1L << 32;
  private static final long REBOOT_MS = 1000;
  private static final long NEAR_MS = 60_000;

  private long rawMs = -1;
  private long elapsedMs;

  /** Microseconds since 1970, or {@link DeviceClock#OUT_OF_ORDER}. */
  long map(long raw) {
    if (rawMs >= 0) {
      long advanceMs = advanceMs(raw);
      if (advanceMs < 0) {
        return DeviceClock.OUT_OF_ORDER;
      }
      elapsedMs += advanceMs;
    }
    rawMs = raw;
    return BEGIN_US + elapsedMs * 1000;
  }

  private long advanceMs(long raw) {
    long advance = raw - rawMs;
    if (advance >= 0) {
      return advance;
    }
    if (advance + WRAP_MS <= NEAR_MS) {
      return advance + WRAP_MS;
    }
    // A little back and not near zero is a line sent twice; anything else is a reboot.
    boolean sentTwice = -advance < REBOOT_MS && raw > REBOOT_MS;
    return sentTwice ? advance : REBOOT_MS;
  }
}
