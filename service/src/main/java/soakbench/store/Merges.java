package soakbench.store;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.util.List;
import java.util.Optional;
import soakbench.live.StoreException;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.SqlTimes;

/**
 * Trackers whose samples were given to another, and what people said of them, which goes with the
 * samples. Thread-safe; all calls throw {@link StoreException} when the database does not answer.
 */
public final class Merges {
  private static final String SELECT =
      "SELECT id, at, tracker, into_id, address, reason, samples, aside, done FROM tracker_merge";

  /** What the other has of its own stays. */
  private static final String[] SAID = {
    "UPDATE soak_left_out a SET tracker = ? WHERE tracker = ? AND NOT EXISTS"
        + " (SELECT 1 FROM soak_left_out b WHERE b.tracker = ? AND b.at = a.at)",
    "UPDATE calibration_said a SET tracker = ? WHERE tracker = ? AND NOT EXISTS"
        + " (SELECT 1 FROM calibration_said b WHERE b.tracker = ? AND b.at = a.at)"
  };

  private final Pools pools;
  private final Roster roster;

  Merges(Pools pools, Roster roster) {
    this.pools = pools;
    this.roster = roster;
  }

  /** Notes that one begins; returns its id. */
  public long begin(String tracker, String into, String address, String reason) {
    return pools.change(
        "beginning a merge",
        c ->
            Query.first(
                    c,
                    rows -> rows.getLong(1),
                    "INSERT INTO tracker_merge (tracker, into_id, address, reason)"
                        + " VALUES (?, ?, ?, ?) RETURNING id",
                    tracker,
                    into,
                    address,
                    reason)
                .orElseThrow());
  }

  /** So many samples were given, so many set aside. */
  public void add(long id, long samples, long aside) {
    pools.change(
        "counting what was merged",
        c ->
            Query.change(
                c,
                "UPDATE tracker_merge SET samples = samples + ?, aside = aside + ? WHERE id = ?",
                samples,
                aside,
                id));
  }

  /**
   * All samples are given: gives what people said of the soaks, and takes the wrong id out of the
   * roster; its entry becomes the other's where that has none.
   */
  public void end(TrackerMerge merge) {
    String from = merge.tracker();
    String into = merge.into();
    pools.write(
        "ending a merge",
        c -> {
          for (String sql : SAID) {
            Query.change(c, sql, into, from, into);
          }
          roster.announce(c, List.of(from, into));
          return endRoster(c, merge);
        });
    roster.told(List.of(from, into));
  }

  private static int endRoster(Connection c, TrackerMerge merge) throws SQLException {
    Query.change(
        c,
        "INSERT INTO tracker SELECT b.* FROM tracker t,"
            + " jsonb_populate_record(t, jsonb_build_object('id', ?::text)) b"
            + " WHERE t.id = ? ON CONFLICT (id) DO NOTHING",
        merge.into(),
        merge.tracker());
    return Query.change(
        c,
        "WITH gone AS (DELETE FROM tracker t WHERE id = ? RETURNING to_jsonb(t) AS entry)"
            + " UPDATE tracker_merge SET done = true, entry = (SELECT entry FROM gone)"
            + " WHERE id = ?",
        merge.tracker(),
        merge.id());
  }

  public Optional<TrackerMerge> find(long id) {
    return pools.request(
        "looking for a merge", c -> Query.first(c, Merges::read, SELECT + " WHERE id = ?", id));
  }

  /** All, the newest first. */
  public List<TrackerMerge> newest(int most) {
    return pools.request(
        "listing merges",
        c -> Query.list(c, Merges::read, SELECT + " ORDER BY id DESC LIMIT ?", most));
  }

  private static TrackerMerge read(ResultSet rows) throws SQLException {
    return new TrackerMerge(
        rows.getLong(1),
        SqlTimes.us(rows, 2),
        rows.getString(3),
        rows.getString(4),
        rows.getString(5),
        rows.getString(6),
        rows.getLong(7),
        rows.getLong(8),
        rows.getBoolean(9));
  }
}
