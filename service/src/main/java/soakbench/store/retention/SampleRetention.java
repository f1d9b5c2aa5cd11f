package soakbench.store.retention;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Supplier;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;
import soakbench.store.connection.ChunkStatus;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;

/**
 * How long samples are kept; for good unless set. They go a soak at a time: first it is marked,
 * while nothing else writes, then they are removed piece by piece beside whatever goes on. Bins,
 * figures, marks and timelines stay. A pass that was cut off is taken up by the next. Thread-safe;
 * all calls throw {@link StoreException} when the database does not answer.
 */
public final class SampleRetention {
  private static final Logger LOG = LoggerFactory.getLogger(SampleRetention.class);

  /** An agent that was cut off over a holiday brings what it spooled later. */
  public static final int LEAST_DAYS = 7;

  public static final int MOST_DAYS = 36_500;

  private static final int AT_A_TIME = 200;

  /** Chunks that some soak keeps from being dropped whole for so many of them are emptied. */
  private static final int CHUNKS_WAITED_FOR = 2;

  private static final String BYTES_A_ROW =
      "SELECT pg_total_relation_size(oid) / reltuples::float8 FROM pg_class"
          + " WHERE oid = 'sample'::regclass AND reltuples > 0";

  private static final String BYTES_A_ROW_OF_CHUNKS =
      "SELECT hypertable_size('sample') / nullif(approximate_row_count('sample'), 0)::float8";

  /** Runs work while nothing else writes. */
  @FunctionalInterface
  public interface Alone {
    <T> T run(Supplier<T> work);
  }

  private final Pools pools;
  private final DroppedSamples dropped;
  private volatile int days;

  public SampleRetention(Pools pools) {
    this.pools = pools;
    this.dropped = new DroppedSamples(pools);
  }

  /** Keeps samples for so many days of 24 hours from now on. */
  public void keepDays(int atMost) {
    if (atMost < LEAST_DAYS || atMost > MOST_DAYS) {
      throw new IllegalArgumentException(
          "samples can be kept for %d to %d days, not %d".formatted(LEAST_DAYS, MOST_DAYS, atMost));
    }
    days = atMost;
  }

  /** For how many days samples are kept; empty for good. */
  public Optional<Integer> days() {
    return days == 0 ? Optional.empty() : Optional.of(days);
  }

  /** Refuses samples of soaks whose samples were dropped. */
  public DroppedSamples dropped() {
    return dropped;
  }

  /** What would go now if samples were kept for so many days. */
  public Preview preview(int keptDays, Instant now) {
    return pools.export("looking what would go", c -> preview(c, keptDays, now));
  }

  private Preview preview(Connection c, int keptDays, Instant now) throws SQLException {
    Instant before = now.minus(Duration.ofDays(keptDays));
    Map<Boolean, Preview.Soaks> sums = OldSoaks.sums(c, before);
    Preview.Soaks going = sums.getOrDefault(true, Preview.Soaks.NONE);
    Optional<Double> bytesEach =
        Query.list(
                c,
                rows -> Optional.ofNullable(rows.getObject(1, Double.class)),
                liesInChunks(c) ? BYTES_A_ROW_OF_CHUNKS : BYTES_A_ROW)
            .stream()
            .flatMap(Optional::stream)
            .findFirst();
    Long bytes = bytesEach.map(each -> Math.round(each * going.samples())).orElse(null);
    return new Preview(keptDays, going, bytes, sums.getOrDefault(false, Preview.Soaks.NONE));
  }

  /** The soaks whose samples are gone, or are being removed. */
  public Preview.Soaks gone() {
    return pools.request("looking for dropped samples", OldSoaks::dropped);
  }

  /** How many soaks' samples wait to be removed. */
  public long waiting() {
    return pools.request("looking for dropped samples", SampleRemoval::waiting);
  }

  /**
   * Removes what is too old; nothing where samples are kept for good. It leaves the database half
   * of the time to others, and ends early when its thread is interrupted.
   *
   * @return how many soaks were marked
   */
  public int pass(Instant now, Alone alone) {
    if (days == 0) {
      return 0;
    }
    Instant before = now.minus(Duration.ofDays(days));
    int marked = mark(before, alone);
    boolean chunks = pools.request("looking for chunks", SampleRetention::liesInChunks);
    long removed = remove(before, chunks);
    int whole = chunks ? dropChunks(before, alone) : 0;
    if (marked > 0 || removed > 0 || whole > 0) {
      LOG.info(
          "samples are kept for {} days: those of {} more soaks go; {} were removed, and {} chunks"
              + " as a whole",
          days,
          marked,
          removed,
          whole);
    }
    return marked;
  }

  private int mark(Instant before, Alone alone) {
    int all = 0;
    int some;
    do {
      // Looked for beside the writing, and marked, when they still may go, apart from it.
      List<String> found =
          pools.export("looking for old samples", c -> OldSoaks.find(c, before, AT_A_TIME));
      some =
          found.isEmpty()
              ? 0
              : alone.run(
                  () -> pools.change("marking old samples", c -> OldSoaks.mark(c, before, found)));
      all += some;
    } while (some == AT_A_TIME && rested(0));
    if (all > 0) {
      dropped.forget();
    }
    return all;
  }

  /** By now: rows of before TimescaleDB came are moved into chunks while the service runs. */
  private static boolean liesInChunks(Connection c) throws SQLException {
    return ChunkStatus.read(c).filter(ChunkStatus::hypertables).isPresent();
  }

  private long remove(Instant before, boolean chunks) {
    Instant until =
        chunks
            ? before.minus(
                pools
                    .request("looking at chunks", SampleChunks::longest)
                    .multipliedBy(CHUNKS_WAITED_FOR))
            : Instant.parse("9999-01-01T00:00:00Z");
    long removed = 0;
    Optional<Integer> piece;
    do {
      long startNs = System.nanoTime();
      piece = pools.change("removing old samples", c -> SampleRemoval.piece(c, until));
      removed += piece.orElse(0);
      if (!rested(System.nanoTime() - startNs)) {
        break;
      }
    } while (piece.isPresent());
    return removed;
  }

  private int dropChunks(Instant before, Alone alone) {
    int whole = 0;
    while (rested(0)
        && alone.run(
            () -> pools.change("dropping old samples", c -> SampleChunks.drop(c, before)))) {
      whole++;
    }
    return whole;
  }

  /** Whether to go on after such a pause. */
  private static boolean rested(long ns) {
    try {
      Thread.sleep(ns / 1_000_000);
      return true;
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      return false;
    }
  }
}
