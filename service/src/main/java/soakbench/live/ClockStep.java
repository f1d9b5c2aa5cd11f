package soakbench.live;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashSet;
import java.util.List;
import java.util.OptionalLong;
import java.util.Set;
import soakbench.model.Sample;

/**
 * Tells a clock that was set back from single lines that come late: a tracker whose own time, as it
 * arrives, lies behind what it had said before, and goes on. Not thread-safe.
 */
final class ClockStep {
  /** Lines that come in another order than they were measured lie less far back than this. */
  private static final long LEAST_US = 5_000_000L;

  /** For so long the earlier time must have gone on. */
  private static final long GOES_ON_US = 3_000_000L;

  private static final int GOES_ON_LINES = 3;

  /** Lines further from one another, or from what arrived last, are not of one stream. */
  private static final long APART_US = 60_000_000L;

  private final List<Sample> stream = new ArrayList<>();
  private final Set<Long> storedUs = new HashSet<>();
  private long newestAtUs;

  /**
   * Takes a sample that came late, or that is not stored because another of its time is.
   *
   * @param stored whether it is stored
   * @param streamUs where the tracker's own time stands; empty where nothing is measured now
   * @param newestUs what it had said before
   * @param nowUs what the live clock says
   * @return whether its clock was set back
   */
  boolean take(Sample sample, boolean stored, OptionalLong streamUs, long newestUs, long nowUs) {
    boolean behind = streamUs.isPresent() && newestUs - streamUs.getAsLong() > LEAST_US;
    if (!behind || !near(sample.timeUs(), streamUs.getAsLong())) {
      return false;
    }
    if (!stream.isEmpty() && !near(sample.timeUs(), newest().timeUs())) {
      stream.clear();
      storedUs.clear();
    }
    stream.add(sample);
    if (stored) {
      storedUs.add(sample.timeUs());
    }
    newestAtUs = nowUs;
    return stream.size() >= GOES_ON_LINES
        && newest().timeUs() - stream.get(0).timeUs() >= GOES_ON_US;
  }

  private static boolean near(long timeUs, long otherUs) {
    return Math.abs(timeUs - otherUs) <= APART_US;
  }

  private Sample newest() {
    return stream.get(stream.size() - 1);
  }

  /** Whether one may be under way. */
  boolean possible(long nowUs) {
    return !stream.isEmpty() && nowUs - newestAtUs < APART_US;
  }

  /** Times of those that are stored. */
  Set<Long> storedUs() {
    return storedUs;
  }

  /** What came since the clock was set, by time. */
  List<Sample> stream() {
    return stream.stream().sorted(Comparator.comparingLong(Sample::timeUs)).toList();
  }
}
