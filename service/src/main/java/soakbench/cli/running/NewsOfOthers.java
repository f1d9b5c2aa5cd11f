package soakbench.cli.running;

import java.util.HashSet;
import java.util.OptionalLong;
import java.util.Set;
import java.util.concurrent.TimeUnit;
import java.util.function.Predicate;
import java.util.stream.LongStream;
import soakbench.store.connection.Announcements.News;

/**
 * What other services have announced and this one has not looked at yet. Looked at at once, but for
 * a pause after each look that is three times as long as the look took, a second at most; what is
 * judged, without announcements, about once a second. Thread-safe.
 */
final class NewsOfOthers {
  private static final long LOOKS_EVERY_NS = TimeUnit.SECONDS.toNanos(1);
  private static final int PAUSES = 3;

  private final Set<String> again = new HashSet<>();
  private boolean all;
  private boolean judged;
  private boolean told;
  private long lookedNs = System.nanoTime() - LOOKS_EVERY_NS;
  private long tookNs;
  private long toldNs = System.nanoTime();
  private long toldTookNs;

  synchronized void heard(News news) {
    judged |= !news.told() || news.trackers() == null;
    told |= news.told();
    all |= news.trackers() == null;
    if (!news.told()) {
      again.addAll(news.trackers() == null ? Set.of() : news.trackers());
    }
  }

  /** Whether it is time to look at what is judged. */
  synchronized boolean isDue(long nowNs) {
    return nowNs - lookedNs >= (judged ? pauseNs() : LOOKS_EVERY_NS);
  }

  private long pauseNs() {
    return Math.min(LOOKS_EVERY_NS, PAUSES * tookNs);
  }

  /** How long what was announced has still to wait; empty where nothing does. */
  synchronized OptionalLong waitNs(long nowNs) {
    LongStream ofJudged = judged ? LongStream.of(lookedNs + pauseNs()) : LongStream.empty();
    LongStream ofTold = told ? LongStream.of(toldNs + PAUSES * toldTookNs) : LongStream.empty();
    return LongStream.concat(ofJudged, ofTold).map(ns -> Math.max(0, ns - nowNs)).min();
  }

  /** Begins a look: trackers of which something was judged again since the last one. */
  synchronized Predicate<String> begin(long nowNs) {
    Set<String> these = Set.copyOf(again);
    boolean every = all;
    again.clear();
    all = false;
    judged = false;
    lookedNs = nowNs;
    return tracker -> every || these.contains(tracker);
  }

  /** A look that failed: everything is looked at again next time. */
  synchronized void failed() {
    all = true;
  }

  synchronized void ended(long nowNs) {
    tookNs = nowNs - lookedNs;
    lookedNs = nowNs;
  }

  /** Whether it is time to read what people told; it counts as read then. */
  synchronized boolean takeTold(long nowNs) {
    if (!told || nowNs - toldNs < PAUSES * toldTookNs) {
      return false;
    }
    told = false;
    toldNs = nowNs;
    return true;
  }

  synchronized void toldIsRead(long nowNs) {
    toldTookNs = nowNs - toldNs;
    toldNs = nowNs;
  }
}
