package soakbench.store;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.List;
import java.util.Optional;
import soakbench.live.StoreException;
import soakbench.store.RecordingImport.Counts;
import soakbench.store.RecordingImport.Files;
import soakbench.store.RecordingImport.Undone;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.SqlTimes;

/**
 * Recordings that people brought in: who, when, what became of each file, and whether it was taken
 * out again. Which samples they brought is noted with the samples. Thread-safe; all calls throw
 * {@link StoreException} when the database does not answer.
 */
public final class Imports {
  private static final String SELECT =
      """
      SELECT i.id, i.began, i.sender, i.address, i.undone, i.reason, i.taken,
        NOT EXISTS (SELECT 1 FROM import_part p WHERE p.import = i.id),
        count(f.name), count(f.ended), count(f.problem),
        coalesce(sum(f.accepted), 0), coalesce(sum(f.duplicate), 0),
        coalesce(sum(f.conflicting), 0), coalesce(sum(f.rejected), 0)
      FROM import i LEFT JOIN import_file f ON f.import = i.id\
      """;

  private static final String ADD =
      """
      INSERT INTO import_file AS f (import, name, accepted, duplicate, conflicting, rejected)
      VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT (import, name) DO UPDATE SET
        accepted = f.accepted + EXCLUDED.accepted, duplicate = f.duplicate + EXCLUDED.duplicate,
        conflicting = f.conflicting + EXCLUDED.conflicting,
        rejected = f.rejected + EXCLUDED.rejected\
      """;

  private final Pools pools;

  Imports(Pools pools) {
    this.pools = pools;
  }

  /** Begins an import; returns its id. */
  public long begin(String sender, String address) {
    return pools.change(
        "beginning an import",
        c ->
            Query.first(
                    c,
                    rows -> rows.getLong(1),
                    "INSERT INTO import (sender, address) VALUES (?, ?) RETURNING id",
                    sender,
                    address)
                .orElseThrow());
  }

  /**
   * The newest first.
   *
   * @param sinceUs only those begun then or later, microseconds since 1970; null for all
   */
  public List<RecordingImport> newest(Long sinceUs, int most) {
    return pools.request(
        "listing imports",
        c ->
            Query.list(
                c,
                Imports::read,
                SELECT + " WHERE i.began >= ? GROUP BY i.id ORDER BY i.id DESC LIMIT ?",
                SqlTimes.bound(sinceUs == null ? Long.MIN_VALUE : sinceUs),
                most));
  }

  public Optional<RecordingImport> find(long id) {
    return pools.request(
        "looking for an import",
        c -> Query.first(c, Imports::read, SELECT + " WHERE i.id = ? GROUP BY i.id", id));
  }

  /** Its files, by name. */
  public List<ImportFile> files(long id) {
    return pools.request(
        "listing the files of an import",
        c ->
            Query.list(
                c,
                Imports::readFile,
                "SELECT name, accepted, duplicate, conflicting, rejected, ended, problem"
                    + " FROM import_file WHERE import = ? ORDER BY name",
                id));
  }

  /** Of which trackers it has samples that are not taken out. */
  public List<String> trackers(long id) {
    return pools.request(
        "looking for what was imported",
        c ->
            Query.list(
                c,
                rows -> rows.getString(1),
                "SELECT DISTINCT tracker FROM import_part WHERE import = ? ORDER BY tracker",
                id));
  }

  /** Adds to what became of a file's lines. */
  public void add(long id, String file, Counts more) {
    pools.change(
        "counting what was imported",
        c ->
            Query.change(
                c,
                ADD,
                id,
                file,
                more.accepted(),
                more.duplicate(),
                more.conflicting(),
                more.rejected()));
  }

  /**
   * A file is through.
   *
   * @param problem why it failed; null where it did not
   */
  public void end(long id, String file, String problem) {
    add(id, file, new Counts(0, 0, 0, 0));
    pools.change(
        "ending a file of an import",
        c ->
            Query.change(
                c,
                "UPDATE import_file SET ended = now(), problem = ? WHERE import = ? AND name = ?",
                problem,
                id,
                file));
  }

  /** It is to be taken out; a reason that was given before stays. */
  public void undo(long id, String reason) {
    pools.change(
        "undoing an import",
        c ->
            Query.change(
                c,
                "UPDATE import SET undone = coalesce(undone, now()), reason = coalesce(reason, ?)"
                    + " WHERE id = ?",
                reason,
                id));
  }

  /** So many of its samples were taken out. */
  public void taken(long id, long samples) {
    pools.change(
        "undoing an import",
        c -> Query.change(c, "UPDATE import SET taken = taken + ? WHERE id = ?", samples, id));
  }

  private static RecordingImport read(ResultSet rows) throws SQLException {
    OffsetDateTime undone = rows.getObject(5, OffsetDateTime.class);
    return new RecordingImport(
        rows.getLong(1),
        SqlTimes.us(rows, 2),
        rows.getString(3),
        rows.getString(4),
        new Files(rows.getInt(9), rows.getInt(10), rows.getInt(11)),
        counts(rows, 12),
        undone == null
            ? null
            : new Undone(
                SqlTimes.us(undone), rows.getString(6), rows.getLong(7), rows.getBoolean(8)));
  }

  private static ImportFile readFile(ResultSet rows) throws SQLException {
    OffsetDateTime ended = rows.getObject(6, OffsetDateTime.class);
    return new ImportFile(
        rows.getString(1),
        counts(rows, 2),
        ended == null ? null : SqlTimes.us(ended),
        rows.getString(7));
  }

  private static Counts counts(ResultSet rows, int from) throws SQLException {
    return new Counts(
        rows.getLong(from), rows.getLong(from + 1), rows.getLong(from + 2), rows.getLong(from + 3));
  }
}
