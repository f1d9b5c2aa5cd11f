package soakbench.store;

import java.sql.Connection;
import java.sql.SQLException;
import soakbench.model.Soak;
import soakbench.store.rows.Series;

/** Whether something that was read of a soak still holds for the seconds that it was read of. */
final class SoakGrowth {
  private SoakGrowth() {}

  /**
   * Whether a soak has at most gone on: nothing came late, so its earlier bins are what they were.
   * One derived again counts its late samples, which are then more than came after its end before.
   *
   * @param before as it stood in its table before its bins were read
   * @param now as it stands there
   */
  static boolean only(Connection connection, Soak before, Soak now) throws SQLException {
    if (before.equals(now)) {
      return true;
    }
    return before.open()
        && before.startUs() == now.startUs()
        && before.samplesKept() == now.samplesKept()
        && before.endUs() <= now.endUs()
        && now.samples() - before.samples() == newer(connection, before, now);
  }

  private static long newer(Connection connection, Soak before, Soak now) throws SQLException {
    return Series.countSamples(connection, now.tracker(), before.endUs() + 1, now.endUs() + 1);
  }
}
