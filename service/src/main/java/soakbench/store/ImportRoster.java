package soakbench.store;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import soakbench.live.StoreException;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;

/**
 * The lots that imports give to trackers which have none, each noted so that it can be taken back.
 * Thread-safe; all calls throw {@link StoreException} when the database does not answer.
 */
public final class ImportRoster {
  private final Pools pools;
  private final Roster roster;

  ImportRoster(Pools pools, Roster roster) {
    this.pools = pools;
    this.roster = roster;
  }

  /**
   * Gives a lot to those trackers that have none.
   *
   * @return the lots of those that have another, which they keep
   */
  public Map<String, String> setLot(long imported, Collection<String> trackers, String lot) {
    Map<String, String> others = new LinkedHashMap<>();
    pools.write(
        "writing the roster",
        c -> {
          for (String tracker : trackers) {
            String has = lotOf(c, tracker).orElse("");
            if (has.isEmpty()) {
              setLot(c, imported, tracker, lot);
            } else if (!has.equals(lot)) {
              others.put(tracker, has);
            }
          }
          roster.announce(c, trackers);
          return null;
        });
    roster.told(trackers);
    return others;
  }

  private static Optional<String> lotOf(Connection c, String tracker) throws SQLException {
    return Query.first(
        c, rows -> rows.getString(1), "SELECT lot FROM tracker WHERE id = ?", tracker);
  }

  private static void setLot(Connection c, long imported, String tracker, String lot)
      throws SQLException {
    String before =
        Query.first(
                c,
                rows -> rows.getString(1),
                "SELECT to_jsonb(t)::text FROM tracker t WHERE id = ?",
                tracker)
            .orElse(null);
    Query.change(
        c,
        "INSERT INTO tracker (id, name, lot, imu, board, rack, slot, power, rates,"
            + " temperature_offset_c, note)"
            + " VALUES (?, '', ?, '', '', '', '', 'unknown', 'unknown', 0, '')"
            + " ON CONFLICT (id) DO UPDATE SET lot = EXCLUDED.lot",
        tracker,
        lot);
    Query.change(
        c,
        "INSERT INTO import_roster (import, tracker, before, after)"
            + " SELECT ?, id, ?::jsonb, to_jsonb(t) FROM tracker t WHERE id = ?"
            + " ON CONFLICT (import, tracker) DO UPDATE SET after = EXCLUDED.after",
        imported,
        before,
        tracker);
  }

  /** Puts back what an import wrote, where nobody has changed it since. */
  public void putBack(long imported) {
    List<String> trackers =
        pools.write(
            "writing the roster",
            c -> {
              List<String> gone =
                  Query.list(
                      c,
                      rows -> rows.getString(1),
                      "DELETE FROM tracker t USING import_roster r WHERE r.import = ?"
                          + " AND t.id = r.tracker AND to_jsonb(t) = r.after RETURNING t.id",
                      imported);
              Query.change(
                  c,
                  "INSERT INTO tracker SELECT b.* FROM import_roster r,"
                      + " jsonb_populate_record(null::tracker, r.before) b"
                      + " WHERE r.import = ? AND r.before IS NOT NULL AND r.tracker = ANY(?)",
                  imported,
                  c.createArrayOf("text", gone.toArray()));
              Query.change(c, "DELETE FROM import_roster WHERE import = ?", imported);
              roster.announce(c, gone);
              return gone;
            });
    roster.told(trackers);
  }
}
