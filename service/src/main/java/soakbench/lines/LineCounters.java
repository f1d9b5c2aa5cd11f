package soakbench.lines;

import java.util.EnumMap;
import java.util.Map;

/** Counts the lines of one source. Written by its reader, read from any thread. */
public final class LineCounters {
  private static final int EXAMPLE_LENGTH = 120;

  /** A new sample line each so many readings: copying every one would be waste. */
  private static final int SAMPLE_EVERY = 64;

  private final Map<Rejection.Kind, Tally> rejected = new EnumMap<>(Rejection.Kind.class);
  private final byte[] sample = new byte[EXAMPLE_LENGTH];
  private int sampleLength;
  private long readings;
  private long headers;
  private long rejectedTotal;
  private long unbelievedTimes;
  private long newestTimeUs = Reading.NO_TIME;

  /** One kind's count and newest example, kept as bytes: making text of each would be waste. */
  private static final class Tally {
    private final byte[] example = new byte[EXAMPLE_LENGTH];
    private int exampleLength;
    private String reason;
    private long count;

    void add(String why, byte[] line, int offset, int length) {
      count++;
      reason = why;
      exampleLength = Math.min(length, EXAMPLE_LENGTH);
      System.arraycopy(line, offset, example, 0, exampleLength);
    }

    LineCounts.Rejected snapshot() {
      String shown = Printable.of(example, 0, exampleLength, EXAMPLE_LENGTH);
      return new LineCounts.Rejected(count, reason, shown);
    }
  }

  /** Counts a line that gave a reading; now and then its bytes are copied. */
  public synchronized void reading(byte[] line, int offset, int length) {
    if (readings % SAMPLE_EVERY == 0) {
      sampleLength = Math.min(length, EXAMPLE_LENGTH);
      System.arraycopy(line, offset, sample, 0, sampleLength);
    }
    readings++;
  }

  /** A recent line that gave a reading, at most 120 printable characters; empty before. */
  public synchronized String sample() {
    return Printable.of(sample, 0, sampleLength, EXAMPLE_LENGTH);
  }

  public synchronized void header() {
    headers++;
  }

  /** Counts a line that gave no reading; the bytes are copied. */
  public synchronized void reject(Rejection why, byte[] line, int offset, int length) {
    rejectedTotal++;
    rejected
        .computeIfAbsent(why.kind(), kind -> new Tally())
        .add(why.reason(), line, offset, length);
  }

  /** Counts a reading that was counted before as rejected after all. */
  public synchronized void withdraw(Rejection why) {
    readings--;
    reject(why, new byte[0], 0, 0);
  }

  /** Counts a reading whose own time could not be right, so that it got another. */
  public synchronized void unbelievedTime() {
    unbelievedTimes++;
  }

  /** Notes a sample's time. */
  public synchronized void sampleAt(long timeUs) {
    newestTimeUs = Math.max(newestTimeUs, timeUs);
  }

  /** All lines but blank ones. */
  public synchronized long lines() {
    return readings + headers + rejectedTotal;
  }

  /** Lines that gave a reading. */
  public synchronized long readings() {
    return readings;
  }

  public synchronized LineCounts snapshot() {
    Map<Rejection.Kind, LineCounts.Rejected> kinds = new EnumMap<>(Rejection.Kind.class);
    rejected.forEach((kind, tally) -> kinds.put(kind, tally.snapshot()));
    return new LineCounts(lines(), readings, headers, kinds, newestTimeUs, unbelievedTimes);
  }
}
