package soakbench.ingest.source;

/** Lines a second over the last five whole seconds. Thread-safe. */
public final class RateMeter {
  private static final int WINDOW_S = 5;

  /** Total at the end of each of the last seconds. */
  private final long[] totals = new long[WINDOW_S + 1];

  private final long startS;
  private long second;
  private long total;

  public RateMeter(long nowNs) {
    startS = nowNs / 1_000_000_000L;
    second = startS;
  }

  /** Notes how many there were in all by now. */
  public synchronized void total(long linesSoFar, long nowNs) {
    advance(nowNs);
    total = linesSoFar;
  }

  public synchronized double perSecond(long nowNs) {
    advance(nowNs);
    long spanS = Math.min(WINDOW_S, second - startS);
    return spanS == 0 ? 0 : (endOf(second - 1) - endOf(second - 1 - spanS)) / (double) spanS;
  }

  private long endOf(long atSecond) {
    return atSecond < startS ? 0 : totals[(int) Math.floorMod(atSecond, (long) totals.length)];
  }

  private void advance(long nowNs) {
    long nowS = nowNs / 1_000_000_000L;
    for (long s = Math.max(second, nowS - totals.length); s < nowS; s++) {
      totals[(int) Math.floorMod(s, (long) totals.length)] = total;
    }
    second = Math.max(second, nowS);
  }
}
