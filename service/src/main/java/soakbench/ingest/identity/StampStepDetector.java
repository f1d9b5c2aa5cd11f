package soakbench.ingest.identity;

import soakbench.lines.Reading;

/**
 * Compares one tracker's own timestamps with their arrival: tells a clock that was set from a
 * backlog of lines that waited somewhere.
 */
final class StampStepDetector {
  /** Stamps and arrival agree when they advance alike up to this. */
  static final long STEP_US = 2_000_000;

  /** A line no further behind than this may be one that was overtaken. */
  static final long LATE_US = 10_000_000;

  /** A step forward is longer than so many usual ones. */
  private static final int USUAL_STEPS = 3;

  private static final long LONGEST_STALL_US = 30_000_000;

  /** Lines that waited come at least this much faster than they were measured. */
  private static final int BACKLOG_PACE = 2;

  private static final long BACKLOG_LOOK_US = 5_000_000;

  private long stampUs = Reading.NO_TIME;
  private long readUs;
  private long usualUs;
  private long lowestDelayUs;
  private int lines;

  private long candidateUs = Reading.NO_TIME;
  private long candidateReadUs;
  private long candidateStepUs;

  private boolean backlog;

  /** It was looked at, and is a clock that is behind. */
  private boolean noBacklog;

  private long backlogStampUs;
  private long backlogReadUs;

  /** The newest trusted one. */
  long stampUs() {
    return stampUs;
  }

  /** Whether a second one has confirmed the first. */
  boolean isProved() {
    return lines >= 2;
  }

  void believe(long stamp, long read) {
    long delayUs = read - stamp;
    if (lines > 0 && !isProved() && isStep(stamp, read)) {
      beginAt(stamp, read);
      return;
    }
    usualUs = lines == 0 ? 0 : stamp - stampUs;
    lowestDelayUs = lines == 0 ? delayUs : Math.min(lowestDelayUs, delayUs);
    stampUs = stamp;
    readUs = read;
    lines++;
    candidateUs = Reading.NO_TIME;
  }

  /** Starts over from here. */
  void beginAt(long stamp, long read) {
    lines = candidateUs == Reading.NO_TIME ? 0 : 1;
    long stepUs = lines == 0 ? usualUs : stamp - candidateUs;
    lowestDelayUs = read - stamp;
    stampUs = stamp;
    readUs = read;
    lines++;
    usualUs = stepUs;
    candidateUs = Reading.NO_TIME;
    backlog = false;
  }

  /** Whether this continues the newest trusted one. */
  boolean goesOn(long stamp, long read) {
    long aheadUs = (stamp - stampUs) - (read - readUs);
    return stamp > stampUs && aheadUs <= STEP_US && aheadUs >= -LONGEST_STALL_US;
  }

  /** Whether the clock has stepped: back, or forward by more than arrival bears out. */
  boolean isStep(long stamp, long read) {
    long advanceUs = stamp - stampUs;
    if (advanceUs < 0) {
      return true;
    }
    boolean unconfirmed = advanceUs - (read - readUs) > STEP_US;
    boolean unusual = advanceUs > USUAL_STEPS * usualUs;
    boolean tooEarly = read - stamp < lowestDelayUs - STEP_US;
    return unconfirmed && unusual && tooEarly;
  }

  void candidate(long stamp, long read) {
    candidateUs = stamp;
    candidateReadUs = read;
    candidateStepUs = (stamp - stampUs) - (read - readUs);
  }

  void forgetCandidate() {
    candidateUs = Reading.NO_TIME;
  }

  /** Whether this goes on from the odd one before. */
  boolean agreesWithCandidate(long stamp, long read) {
    if (candidateUs == Reading.NO_TIME) {
      return false;
    }
    long advanceUs = stamp - candidateUs;
    return advanceUs > 0 && Math.abs(advanceUs - (read - candidateReadUs)) <= STEP_US;
  }

  /** By how much the clock was set where the odd one was right, microseconds. */
  long candidateStepUs() {
    return candidateStepUs;
  }

  /**
   * Whether lines that waited come in now: they go on from the newest one and advance much faster
   * than arrival. A clock that stood still for a while advances no faster.
   */
  boolean isBacklog(long stamp, long read) {
    boolean after = stamp > stampUs && stamp - stampUs <= read - readUs + STEP_US || backlog;
    if (noBacklog || !isProved() || !after || stamp <= stampUs) {
      backlog = false;
      return false;
    }
    if (!backlog) {
      backlog = true;
      backlogStampUs = stamp;
      backlogReadUs = read;
    } else if (read - backlogReadUs >= BACKLOG_LOOK_US) {
      backlog = stamp - backlogStampUs >= BACKLOG_PACE * (read - backlogReadUs);
      noBacklog = !backlog;
      backlogStampUs = stamp;
      backlogReadUs = read;
    }
    return backlog;
  }

  void endBacklog() {
    backlog = false;
    noBacklog = false;
  }

  boolean hasBacklog() {
    return backlog;
  }
}
