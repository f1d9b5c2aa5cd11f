package soakbench.ingest.identity;

/**
 * Turns one tracker's milliseconds since boot into time: offset + (1 + skew) t_ms, found from when
 * its lines arrived. Delays only ever make a line late, so the mapping runs along the lower
 * envelope of the arrivals; what it gives follows slowly, so that sample intervals stay true, and
 * never goes backwards. With delays up to 50 ms and clock skew of up to 500 ppm it is right to 5 ms
 * after a minute from five lines a second on, after two minutes below (beside the shortest delay,
 * which nothing can show).
 *
 * <p>A fall of the counter towards zero is a reboot and begins a new mapping; a wrap of its 32 bits
 * is not.
 */
final class DeviceClock {
  /** Answer for a line whose counter is older than one before it, or garbled. */
  static final long OUT_OF_ORDER = Long.MIN_VALUE;

  private static final long WRAP_MS = 1L << 32;

  /** Clock and arrival agree when they advance alike up to this. */
  private static final double AGREE_US = 2e6;

  /** No buffer between tracker and reader holds back lines for longer. */
  private static final double LONGEST_DELAY_US = 30e6;

  /** A later arrival than this for long means that the counter stood still: a new mapping. */
  private static final double LATE_US = 250e3;

  private static final double LATE_FOR_US = 5e6;

  /** A line this much before its time has a garbled counter. */
  private static final double EARLY_US = 1e6;

  /** So many outliers in a row, over so long, that agree with each other are accepted. */
  private static final int BELIEVED = 5;

  private static final double BELIEVED_FOR_US = 1e6;

  /** How slowly a better mapping is taken over, s. */
  private static final double FOLLOW_S = 5;

  /** Further ahead than this it's not slewed back: its time then stays wrong, but evenly spaced. */
  private static final double HOPELESS_US = 10e6;

  private final LowerEnvelope envelope = new LowerEnvelope();
  private boolean started;
  private int reboots;
  private long rawMs;
  private long seq;
  private String boot;
  private long arrivalUs;

  // Origin of the mapping, and the unwrapped counter relative to it.
  private long originArrivalUs;
  private long sinceOriginMs;
  private double outUs = Double.NEGATIVE_INFINITY;

  private double lateSinceUs = Double.NaN;
  private int oddCount;
  private long oddRawMs;
  private long oddArrivalUs;
  private long oddSinceUs;

  /**
   * When the line was taken.
   *
   * @param rawMs milliseconds since boot, 0 to 2^32 - 1
   * @param seq the tracker's line counter, or -1
   * @param boot id of the power-up, or null
   * @param arrivalUs when the line arrived, microseconds since 1970
   * @return microseconds since 1970, not before the answer before; or {@link #OUT_OF_ORDER}
   */
  long map(long rawMs, long seq, String boot, long arrivalUs) {
    if (!started) {
      return restart(rawMs, seq, boot, arrivalUs);
    }
    if (isReboot(rawMs, seq, boot, arrivalUs)) {
      reboots++;
      return restart(rawMs, seq, boot, arrivalUs);
    }
    long advanceMs = advanceMs(rawMs, arrivalUs);
    double earlyUs = envelopeUs(sinceOriginMs + advanceMs) - arrivalUs;
    if (advanceMs < 0 || earlyUs > EARLY_US) {
      return odd(rawMs, seq, boot, arrivalUs);
    }
    oddCount = 0;
    note(rawMs, seq, boot, arrivalUs);
    sinceOriginMs += advanceMs;
    double delayUs = arrivalUs - originArrivalUs - sinceOriginMs * 1e3;
    envelope.add(sinceOriginMs / 1e3, delayUs);
    restartIfLateForLong(delayUs);
    return follow(advanceMs);
  }

  /** How often the tracker has rebooted, as far as its counters show it. */
  int reboots() {
    return reboots;
  }

  /** Estimated error of the tracker's clock, ppm; positive where it runs slow. */
  double skewPpm() {
    return envelope.slopePpm();
  }

  private boolean isReboot(long raw, long newSeq, String newBoot, long arrival) {
    boolean otherBoot = newBoot != null && boot != null && !newBoot.equals(boot);
    double elapsedUs = arrival - arrivalUs;
    double advanceUs = advanceMs(raw, arrival) * 1e3;
    boolean stoodStill = elapsedUs - advanceUs > LONGEST_DELAY_US;
    boolean seqFell = newSeq >= 0 && newSeq < seq && Math.abs(elapsedUs - advanceUs) > AGREE_US;
    // It fell, and there was time enough to boot and count this far since the line before.
    boolean fell = advanceUs < 0 && raw * 1e3 <= elapsedUs + AGREE_US;
    return otherBoot || fell || advanceUs >= 0 && (stoodStill || seqFell);
  }

  /** How far the counter went, ms; negative where it fell and no wrap explains it. */
  private long advanceMs(long raw, long arrival) {
    long advance = raw - rawMs;
    double wrappedUs = (advance + WRAP_MS) * 1e3;
    double elapsedUs = arrival - arrivalUs;
    boolean wrapped =
        advance < 0 && Math.abs(wrappedUs - elapsedUs) < Math.max(AGREE_US, elapsedUs * 0.01);
    return wrapped ? advance + WRAP_MS : advance;
  }

  private void note(long raw, long newSeq, String newBoot, long arrival) {
    rawMs = raw;
    seq = newSeq;
    boot = newBoot;
    arrivalUs = arrival;
  }

  private long restart(long raw, long newSeq, String newBoot, long arrival) {
    started = true;
    note(raw, newSeq, newBoot, arrival);
    sinceOriginMs = 0;
    originArrivalUs = arrival;
    envelope.restart(0, 0);
    lateSinceUs = Double.NaN;
    oddCount = 0;
    outUs = Math.max(arrival, outUs);
    return Math.round(outUs);
  }

  /**
   * A counter that went back without a reboot, or ahead of time: one garbled line, unless the next
   * ones go on from there.
   */
  private long odd(long raw, long newSeq, String newBoot, long arrival) {
    double differenceUs = (raw - oddRawMs) * 1e3 - (arrival - oddArrivalUs);
    boolean goesOn = oddCount > 0 && raw >= oddRawMs && Math.abs(differenceUs) < AGREE_US;
    oddCount = goesOn ? oddCount + 1 : 1;
    oddSinceUs = goesOn ? oddSinceUs : arrival;
    oddRawMs = raw;
    oddArrivalUs = arrival;
    if (oddCount >= BELIEVED && arrival - oddSinceUs >= BELIEVED_FOR_US) {
      reboots++;
      return restart(raw, newSeq, newBoot, arrival);
    }
    return OUT_OF_ORDER;
  }

  private double envelopeUs(long sinceMs) {
    return originArrivalUs + sinceMs * 1e3 + envelope.delayUs(sinceMs / 1e3);
  }

  private void restartIfLateForLong(double delayUs) {
    double late = delayUs - envelope.delayUs(sinceOriginMs / 1e3);
    if (late <= LATE_US) {
      lateSinceUs = Double.NaN;
    } else if (Double.isNaN(lateSinceUs)) {
      lateSinceUs = arrivalUs;
    } else if (arrivalUs - lateSinceUs > LATE_FOR_US) {
      envelope.restart(sinceOriginMs / 1e3, delayUs);
      lateSinceUs = Double.NaN;
    }
  }

  /** Goes on by the counter and closes in on the envelope, at no less than half speed. */
  private long follow(long advanceMs) {
    double stepUs = advanceMs * 1e3 * (1 + envelope.slopePpm() * 1e-6);
    double errorUs = envelopeUs(sinceOriginMs) - (outUs + stepUs);
    double share = -Math.expm1(-advanceMs / 1e3 / FOLLOW_S);
    boolean hopeless = errorUs < -HOPELESS_US;
    double correctionUs = hopeless ? 0 : Math.max(-stepUs / 2, errorUs * share);
    outUs += stepUs + correctionUs;
    return Math.round(outUs);
  }
}
