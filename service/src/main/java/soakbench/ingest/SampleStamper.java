package soakbench.ingest;

import java.util.Collections;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.ConcurrentSkipListMap;
import java.util.function.Consumer;
import java.util.function.ToLongFunction;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.Reading;
import soakbench.lines.ReadingJoiner;
import soakbench.lines.Rejection;
import soakbench.lines.Rejection.Kind;
import soakbench.model.Sample;

/**
 * Makes samples of one source's readings: says whose each is and when it was taken, in whole
 * microseconds, strictly rising for each tracker. Written by one thread; {@link #trackers} may be
 * called from any.
 */
final class SampleStamper implements LineReader.Readings {
  /** More ids than this on one source are garbled ones; each costs memory. */
  private static final int MOST_TRACKERS = 256;

  private static final Rejection NO_ID =
      new Rejection(Kind.NO_ID, "no id in the line and no tracker set for this slot");
  private static final Rejection TOO_MANY =
      new Rejection(Kind.BAD_ID, "more than " + MOST_TRACKERS + " different ids on one source");

  private final String ownTracker;
  private final ToLongFunction<String> newestUs;
  private final LineCounters counters;
  private final Consumer<Sample> samples;
  private final Map<String, TrackerStream> streams = new ConcurrentSkipListMap<>();
  private long readUs = Reading.NO_TIME;

  /**
   * @param ownTracker whose the lines without an id are, or null
   * @param newestUs the time of a tracker's newest sample so far, or {@link Reading#NO_TIME}
   * @param samples gets the samples, those of each tracker in rising time
   */
  SampleStamper(
      String ownTracker,
      ToLongFunction<String> newestUs,
      LineCounters counters,
      Consumer<Sample> samples) {
    this.ownTracker = ownTracker;
    this.newestUs = newestUs;
    this.counters = counters;
    this.samples = samples;
  }

  /** Says when the bytes were read whose readings come next. */
  void readAt(long timeUs) {
    readUs = timeUs;
  }

  @Override
  public Rejection take(Reading reading) {
    String tracker = reading.id() == null ? ownTracker : reading.id();
    if (tracker == null) {
      return NO_ID;
    }
    TrackerStream stream = streams.get(tracker);
    if (stream == null) {
      if (streams.size() >= MOST_TRACKERS) {
        return TOO_MANY;
      }
      stream = open(tracker);
    }
    return stream.take(reading, readUs);
  }

  /** Hands on what still waits for a next line. */
  void end() {
    streams.values().forEach(TrackerStream::end);
  }

  /** Ids seen so far, sorted; a live view. */
  Set<String> trackers() {
    return Collections.unmodifiableSet(streams.keySet());
  }

  /** How many lines never came, by the trackers' own counters. */
  long lost(long nowUs) {
    return streams.values().stream().mapToLong(stream -> stream.lost(nowUs)).sum();
  }

  private TrackerStream open(String tracker) {
    TrackerStream stream =
        new TrackerStream(
            new ReadingJoiner(tracker, ReadingJoiner.TEMPERATURE_HOLD_S),
            newestUs.applyAsLong(tracker),
            this::emit,
            counters::withdraw);
    streams.put(tracker, stream);
    return stream;
  }

  private void emit(Sample sample) {
    counters.sampleAt(sample.timeUs());
    samples.accept(sample);
  }
}
