package soakbench.store;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.Map;
import soakbench.model.Soak;
import soakbench.store.rows.BinColumns;

/**
 * The bins of those soaks that charts asked for last, in memory. A page asks for the same soak
 * again and again, and reading ten hours takes ten times as long as putting them together. What is
 * kept is only used as long as the soak is as it was, or has only gone on since. Thread-safe.
 */
final class KeptColumns {
  /** Of all soaks together, 23 MB: eight of ten hours. */
  static final int MOST_SECONDS = 300_000;

  /** Seconds that may still have been open when they were read. */
  private static final int OPEN_SECONDS = 15;

  private final int mostSeconds;

  /** By soak, the one asked for last at the end. */
  private final Map<String, Kept> kept = new LinkedHashMap<>(16, 0.75f, true);

  private record Kept(Soak soak, BinColumns columns) {}

  KeptColumns(int mostSeconds) {
    this.mostSeconds = mostSeconds;
  }

  /** Whether a soak is short enough to be kept. */
  boolean holds(Soak soak) {
    return soak.endSecond() - soak.startSecond() < mostSeconds;
  }

  /**
   * All bins of a soak.
   *
   * @param soak as it stood in its table before this was called
   * @param toSecond later than any of its bins
   */
  BinColumns of(Connection connection, Soak soak, long toSecond) throws SQLException {
    Kept before = kept(soak.id());
    long fromSecond = soak.startSecond();
    BinColumns columns;
    if (before != null && SoakGrowth.only(connection, before.soak(), soak)) {
      fromSecond = Math.max(fromSecond, before.columns().lastSecond() - OPEN_SECONDS);
      BinColumns newer = BinColumns.read(connection, soak.tracker(), fromSecond, toSecond);
      columns = before.columns().then(fromSecond, newer);
    } else {
      columns = BinColumns.read(connection, soak.tracker(), fromSecond, toSecond);
    }
    keep(soak, columns);
    return columns;
  }

  private synchronized Kept kept(String soak) {
    return kept.get(soak);
  }

  private synchronized void keep(Soak soak, BinColumns columns) {
    kept.remove(soak.id());
    if (columns.size() > 0) {
      kept.put(soak.id(), new Kept(soak, columns));
    }
    int all = seconds();
    for (Iterator<Kept> oldest = kept.values().iterator(); all > mostSeconds; ) {
      all -= oldest.next().columns().size();
      oldest.remove();
    }
  }

  /** How many are kept. */
  synchronized int seconds() {
    return kept.values().stream().mapToInt(k -> k.columns().size()).sum();
  }
}
