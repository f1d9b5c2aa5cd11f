package soakbench.live.watch;

import java.util.Collection;
import java.util.Comparator;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.OptionalLong;
import java.util.Set;
import java.util.stream.Collectors;
import soakbench.model.Sample;

/**
 * Detects a clock that was set back, as against single late lines and a request that another one
 * overtook: the tracker's own time, as it arrives, lies behind its newest one, and goes on while
 * nothing of the later time comes. Not thread-safe.
 */
final class ClockStepDetector {
  /** Lines that come in another order than they were measured lie less far back than this. */
  private static final long LEAST_US = 5_000_000L;

  /**
   * For so long the earlier time must have gone on, by what the lines say and by when they come: a
   * whole request arrives at one moment.
   */
  private static final long GOES_ON_US = 3_000_000L;

  private static final int GOES_ON_LINES = 3;

  /** Lines further from one another, or from what arrived last, are not of one stream. */
  private static final long APART_US = 60_000_000L;

  /** For so long after a line more of its stream may come: some send once a minute. */
  private static final long POSSIBLE_US = 2 * APART_US;

  /** So many lines are remembered at most, the first forgotten first. */
  private static final int MOST = 20_000;

  private record Line(Sample sample, boolean stored, long atUs) {
    long timeUs() {
      return sample.timeUs();
    }
  }

  /** By time, in order of arrival. */
  private final Map<Long, Line> stream = new LinkedHashMap<>();

  private Line newest;

  /**
   * Takes a sample that came late, or that is not stored because another of its time is.
   *
   * @param stored whether it is stored
   * @param streamUs where the tracker's own time stands; empty where nothing is measured now
   * @param newestUs its newest timestamp before
   * @param nowUs what the live clock says
   * @return whether its clock was set back
   */
  boolean take(Sample sample, boolean stored, OptionalLong streamUs, long newestUs, long nowUs) {
    if (streamUs.isEmpty()) {
      return false;
    }
    if (newestUs - streamUs.getAsLong() <= LEAST_US) {
      laterGoesOn();
      return false;
    }
    if (Math.abs(sample.timeUs() - streamUs.getAsLong()) > APART_US) {
      return false;
    }
    add(new Line(sample, stored, nowUs));
    return shows();
  }

  /** A line of the later time came. */
  void laterGoesOn() {
    stream.clear();
    newest = null;
  }

  private void add(Line line) {
    if (newest != null && !follows(line)) {
      laterGoesOn();
    }
    if (stream.putIfAbsent(line.timeUs(), line) != null) {
      return;
    }
    newest = line;
    if (stream.size() > MOST) {
      stream.remove(first().timeUs());
    }
  }

  /** What comes in requests may be of one stream with a gap as long as that between them. */
  private boolean follows(Line line) {
    long stepUs = line.timeUs() - newest.timeUs();
    return stepUs >= -APART_US && stepUs <= APART_US + line.atUs() - newest.atUs();
  }

  private Line first() {
    return stream.values().iterator().next();
  }

  private boolean shows() {
    return stream.size() >= GOES_ON_LINES
        && newest.timeUs() - first().timeUs() >= GOES_ON_US
        && newest.atUs() - first().atUs() >= GOES_ON_US;
  }

  /**
   * Whether some of it is not stored, because a line of the clock before has the same timestamp.
   */
  boolean someNotStored() {
    return stream.values().stream().anyMatch(line -> !line.stored());
  }

  /**
   * Forgets lines that were only sent again.
   *
   * @param storedSamples what is stored of their times
   * @return whether the others still show that the clock was set back
   */
  boolean showsWithout(Collection<Sample> storedSamples) {
    Set<Sample> there = new HashSet<>(storedSamples);
    stream.values().removeIf(line -> !line.stored() && there.contains(line.sample()));
    newest = stream.values().stream().reduce((a, b) -> b).orElse(null);
    return shows();
  }

  /** Whether a step may be in progress. */
  boolean possible(long nowUs) {
    return newest != null && nowUs - newest.atUs() < POSSIBLE_US;
  }

  /** Times of those that are stored. */
  Set<Long> storedUs() {
    return stream.values().stream()
        .filter(Line::stored)
        .map(Line::timeUs)
        .collect(Collectors.toSet());
  }

  /** What came since the clock was set, by time. */
  List<Sample> stream() {
    return stream.values().stream()
        .map(Line::sample)
        .sorted(Comparator.comparingLong(Sample::timeUs))
        .toList();
  }
}
