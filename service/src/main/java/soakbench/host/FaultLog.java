package soakbench.host;

import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.atomic.AtomicLong;
import org.slf4j.Logger;

/** Faults of this program in one place: each kind is logged once, all are counted. Thread-safe. */
public final class FaultLog {
  private static final int MOST_KINDS = 20;

  private final Logger log;
  private final String what;
  private final Set<String> logged = ConcurrentHashMap.newKeySet();
  private final AtomicLong count = new AtomicLong();

  /**
   * @param what what failed, like "reading port A1"
   */
  public FaultLog(Logger log, String what) {
    this.log = log;
    this.what = what;
  }

  /** Takes one: the work goes on. */
  public void add(RuntimeException fault) {
    count.incrementAndGet();
    StackTraceElement[] at = fault.getStackTrace();
    String kind = fault.getClass().getName() + (at.length == 0 ? "" : at[0]);
    if (logged.size() < MOST_KINDS && logged.add(kind)) {
      log.error("{} failed by a fault of this program, and goes on", what, fault);
    }
  }

  /** How many there were. */
  public long count() {
    return count.get();
  }
}
