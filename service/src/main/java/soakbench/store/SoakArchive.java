package soakbench.store;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.OffsetDateTime;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.OptionalLong;
import java.util.function.Consumer;
import soakbench.live.StoreException;
import soakbench.live.watch.SoakRun;
import soakbench.model.Bin;
import soakbench.model.BinSpan;
import soakbench.model.LimitsChange;
import soakbench.model.Sample;
import soakbench.model.Soak;
import soakbench.model.SoakTerms;
import soakbench.model.StateChange;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;
import soakbench.store.rows.BinMinutes;
import soakbench.store.rows.BinSpans;
import soakbench.store.rows.LimitsHistory;
import soakbench.store.rows.Series;
import soakbench.store.rows.Soaks;
import soakbench.store.rows.SqlTimes;
import soakbench.store.rows.Terms;
import soakbench.store.rows.Timelines;

/**
 * Reads the stored soaks with their samples, bins, timelines and terms, on connections apart from
 * the writer's. Thread-safe. Each call sees what was committed before it; all throw {@link
 * StoreException} when the database does not answer.
 */
public final class SoakArchive {
  private final Pools pools;
  private final KeptColumns columns = new KeptColumns(KeptColumns.MOST_SECONDS);

  SoakArchive(Pools pools) {
    this.pools = pools;
  }

  /**
   * Soaks, the newest start first.
   *
   * @throws IllegalArgumentException if {@code afterId} names no soak (any more)
   */
  public List<Soak> soaks(SoakQuery query) {
    return pools.request("listing soaks", c -> list(c, query));
  }

  /**
   * How many soaks there are, whatever the query's own limit.
   *
   * @throws IllegalArgumentException if {@code afterId} names no soak (any more)
   */
  public long count(SoakQuery query) {
    return pools.request("counting soaks", c -> count(c, query));
  }

  /** The ids of all trackers that had a soak or are in the roster. */
  public List<String> trackers() {
    String sql = "SELECT tracker FROM soak UNION SELECT id FROM tracker";
    return pools.request("listing trackers", c -> Query.list(c, rows -> rows.getString(1), sql));
  }

  public Optional<Soak> soak(String id) {
    return pools.request("reading a soak", c -> find(c, id));
  }

  /**
   * The soak that had this id until samples that came late moved its start, or joined it to the one
   * before: the one that its time lies in.
   */
  public Optional<Soak> soakOnceNamed(String id) {
    OptionalLong startMs = SoakRun.startMs(id);
    return startMs.isEmpty()
        ? Optional.empty()
        : soakAt(Soak.trackerOf(id), startMs.getAsLong() * 1000 + 999);
  }

  /**
   * When a soak's samples went because they are kept for so long only, microseconds since 1970;
   * empty where they did not.
   */
  public OptionalLong samplesDroppedUs(String id) {
    String sql = "SELECT samples_dropped FROM soak WHERE id = ? AND samples_dropped IS NOT NULL";
    return pools
        .request(
            "looking for dropped samples",
            c -> Query.first(c, rows -> SqlTimes.us(rows, 1), sql, id))
        .stream()
        .mapToLong(us -> us)
        .findFirst();
  }

  /** The tracker's soak that holds this time, or ended a moment before; empty where none does. */
  public Optional<Soak> soakAt(String tracker, long atUs) {
    String sql =
        "SELECT "
            + Soaks.COLUMNS
            + " FROM soak WHERE tracker = ? AND start_time <= ? AND end_time >= ?"
            + " ORDER BY start_time DESC LIMIT 1";
    return pools.request(
        "looking for a soak",
        c ->
            Query.first(
                c,
                Soaks::read,
                sql,
                tracker,
                SqlTimes.time(atUs),
                SqlTimes.time(atUs - 1_000_000L)));
  }

  /** A soak's timeline in the order of writing; empty where there is no such soak. */
  public List<StateChange> timeline(String soak) {
    return pools.request("reading a timeline", c -> Timelines.read(c, soak));
  }

  /** What a soak is judged by; empty where there is no such soak, or no start since terms exist. */
  public Optional<SoakTerms> terms(String soak) {
    return pools.request("reading a soak's terms", c -> Terms.find(c, soak));
  }

  /** The history of limits, the newest first. */
  public List<LimitsChange> limitsHistory(int most) {
    return pools.request("reading limits", c -> LimitsHistory.list(c, most));
  }

  /** Bins with {@code fromSecond <= second < toSecond}, by second. */
  public List<Bin> bins(String tracker, long fromSecond, long toSecond) {
    return pools.request("reading bins", c -> Series.bins(c, tracker, fromSecond, toSecond));
  }

  /**
   * A stretch of a soak's bins put together to at most so many rows, their extremes kept.
   *
   * @param soak as {@link #soak} gave it
   */
  public List<BinSpan> binSpans(Soak soak, long fromSecond, long toSecond, int most) {
    return pools.request("reading bins", c -> spans(c, soak, fromSecond, toSecond, most));
  }

  /**
   * A tracker's bins over all its soaks, put together to at most so many rows of whole minutes,
   * their extremes kept; see {@link BinMinutes}.
   */
  public List<BinSpan> history(String tracker, long fromSecond, long toSecond, int most) {
    return pools.request(
        "reading a tracker's history",
        c -> BinMinutes.read(c, tracker, fromSecond, toSecond, most));
  }

  private List<BinSpan> spans(Connection c, Soak soak, long fromSecond, long toSecond, int most)
      throws SQLException {
    if (!columns.holds(soak)) {
      return BinSpans.read(c, soak.tracker(), fromSecond, toSecond, most);
    }
    long endSecond = soak.open() ? Long.MAX_VALUE : soak.endSecond() + 1;
    return columns.of(c, soak, endSecond).spans(fromSecond, toSecond, most);
  }

  /**
   * By how many seconds of bins a soak went on; empty where more than that changed of it.
   *
   * @param before as {@link #soak} gave it before its bins were read
   * @param newestSecond the newest that there was among them
   * @param now as it gives it now
   */
  public OptionalLong grownS(Soak before, long newestSecond, Soak now) {
    return pools.request(
        "looking at a soak again",
        c ->
            SoakGrowth.only(c, before, now)
                ? OptionalLong.of(BinSpans.lastSecond(c, now).orElse(newestSecond) - newestSecond)
                : OptionalLong.empty());
  }

  /**
   * Passes samples with {@code fromUs <= time < toUs}, by time, one at a time; some thousand are
   * held in memory, however many there are.
   *
   * @param taker may take its time; what it throws ends the reading
   */
  public void samples(String tracker, long fromUs, long toUs, Consumer<Sample> taker) {
    pools.export(
        "exporting samples",
        c -> {
          Series.eachSample(c, tracker, fromUs, toUs, taker);
          return null;
        });
  }

  private static Optional<Soak> find(Connection connection, String id) throws SQLException {
    return Query.first(
        connection, Soaks::read, "SELECT " + Soaks.COLUMNS + " FROM soak WHERE id = ?", id);
  }

  private static List<Soak> list(Connection connection, SoakQuery query) throws SQLException {
    List<Object> values = new ArrayList<>();
    String where = where(connection, query, values);
    values.add(query.limit());
    return Query.list(
        connection,
        Soaks::read,
        "SELECT %s FROM soak WHERE %s ORDER BY start_time DESC, id DESC LIMIT ?"
            .formatted(Soaks.COLUMNS, where),
        values.toArray());
  }

  private static long count(Connection connection, SoakQuery query) throws SQLException {
    List<Object> values = new ArrayList<>();
    String sql = "SELECT count(*) FROM soak WHERE " + where(connection, query, values);
    return Query.list(connection, rows -> rows.getLong(1), sql, values.toArray()).get(0);
  }

  private static String where(Connection connection, SoakQuery query, List<Object> values)
      throws SQLException {
    StringBuilder where = new StringBuilder("true");
    narrow(where, values, "tracker = ?", query.tracker());
    narrow(where, values, "tracker IN (SELECT id FROM tracker WHERE lot = ?)", query.lot());
    narrow(where, values, "tracker IN (SELECT id FROM tracker WHERE rack = ?)", query.rack());
    narrow(where, values, "end_time >= ?", bound(query.fromUs()));
    narrow(where, values, "start_time < ?", bound(query.toUs()));
    if (query.afterId() != null) {
      Soak last = find(connection, query.afterId()).orElseThrow(() -> lost(query.afterId()));
      where.append(" AND (start_time, id) < (?, ?)");
      values.add(SqlTimes.time(last.startUs()));
      values.add(last.id());
    }
    return where.toString();
  }

  private static void narrow(
      StringBuilder where, List<Object> values, String condition, Object value) {
    if (value != null) {
      where.append(" AND ").append(condition);
      values.add(value);
    }
  }

  private static OffsetDateTime bound(Long timeUs) {
    return timeUs == null ? null : SqlTimes.bound(timeUs);
  }

  private static IllegalArgumentException lost(String afterId) {
    return new IllegalArgumentException(
        "there is no soak \"" + afterId + "\" to go on after; list again from the beginning");
  }
}
