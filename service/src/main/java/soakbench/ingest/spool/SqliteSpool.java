package soakbench.ingest.spool;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.ConcurrentHashMap;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.OwnerOnly;
import soakbench.host.ProgramLock;
import soakbench.model.Sample;

/**
 * The spool as a SQLite file. Each append is one transaction, written through to the disk (WAL,
 * {@code synchronous=FULL}). Removing is written through with the next append: where the power goes
 * before that, samples are sent again, which is harmless.
 *
 * <p>A file that is damaged or of another version is set aside, when it is opened or when it shows,
 * and its good samples go into a new one.
 *
 * <p>Its status and each tracker's newest timestamp are kept in memory beside it, so that reading
 * them never waits for the disk.
 */
public final class SqliteSpool implements Spool {
  /** Some ten million samples: four hours of twelve trackers at fifty lines a second. */
  public static final long DEFAULT_LIMIT_BYTES = 1L << 30;

  private static final Logger LOG = LoggerFactory.getLogger(SqliteSpool.class);

  private static final int RETRIED_AT_ONCE = 10_000;

  private final Path file;
  private final long limitBytes;
  private final ProgramLock lock;
  private Connection connection;
  private SpoolTables tables;
  private long nextId;
  private long waiting;
  private long refused;
  private long damaged;
  private long usedBytes;
  private final Map<String, Long> newestUs = new ConcurrentHashMap<>();
  private volatile Status status;

  private SqliteSpool(Path file, long limitBytes, ProgramLock lock) {
    this.file = file;
    this.limitBytes = limitBytes;
    this.lock = lock;
    this.status = new Status(0, 0, 0, 0, limitBytes);
  }

  /**
   * Opens a spool, making it where it is missing.
   *
   * @param limitBytes from where on nothing is appended any more
   * @throws SpoolException if another program has it, if it can't be written, or if the file is
   *     something else
   */
  public static SqliteSpool open(Path file, long limitBytes) {
    ProgramLock lock = lock(file);
    SqliteSpool spool = new SqliteSpool(file, limitBytes, lock);
    try {
      spool.open();
      return spool;
    } catch (SQLException e) {
      spool.close();
      throw SpoolFaults.of(file, e);
    } catch (IOException e) {
      spool.close();
      throw SpoolFaults.unusable(file, e);
    } catch (RuntimeException e) {
      spool.close();
      throw e;
    }
  }

  /** One program at a time has a spool. */
  private static ProgramLock lock(Path file) {
    try {
      OwnerOnly.makeFolder(file.toAbsolutePath().getParent());
      return ProgramLock.take(file.resolveSibling(file.getFileName() + ".lock"));
    } catch (ProgramLock.HeldException e) {
      throw SpoolFaults.inUse(file, e.getMessage(), e);
    } catch (IOException e) {
      throw SpoolFaults.unusable(file, e);
    }
  }

  private void open() throws IOException, SQLException {
    SpoolLibrary.prepare(file);
    SpoolRescue rescue = new SpoolRescue(file);
    rescue.finishEarlier();
    if (Files.isDirectory(file) || Files.exists(file) && SpoolFile.isForeign(file)) {
      throw foreign();
    }
    SpoolAccess.keepToOwner(file);
    Optional<String> fault = connect();
    if (fault.isPresent()) {
      disconnect();
      rescue.run(fault.get());
      connection = SpoolFile.connect(file);
    }
    takeStock();
  }

  private SpoolException foreign() {
    return new SpoolException(
        file + " is not a spool of this program; name another file with --spool", null);
  }

  /** Connects; what is wrong with the file, or empty where it can be used. */
  private Optional<String> connect() throws SQLException {
    try {
      connection = SpoolFile.connect(file);
      if (SpoolFile.isForeign(connection)) {
        throw foreign();
      }
      return SpoolFile.fault(connection);
    } catch (SQLException e) {
      if (SpoolFaults.isDamage(file, e)) {
        return Optional.of("is damaged: " + SpoolFaults.detail(e));
      }
      throw e;
    }
  }

  private void takeStock() throws SQLException {
    tables = new SpoolTables(connection);
    nextId = Math.max(nextId, tables.lastId() + 1);
    waiting = tables.count("sample");
    refused = tables.count("refused");
    usedBytes = tables.usedBytes();
    tables.newestUs().forEach(this::noteNewest);
    publish();
  }

  private void noteNewest(String tracker, long timeUs) {
    newestUs.merge(tracker, timeUs, Math::max);
  }

  /** Publishes the counts to readers that don't hold the lock. */
  private void publish() {
    status = new Status(waiting, refused, damaged, usedBytes, limitBytes);
  }

  @Override
  public synchronized void append(List<Sample> samples) {
    if (usedBytes >= limitBytes) {
      throw SpoolFaults.full(file, limitBytes, waiting);
    }
    whole(
        () -> {
          tables.append(nextId, samples);
          nextId += samples.size();
          waiting += samples.size();
          samples.forEach(sample -> noteNewest(sample.tracker(), sample.timeUs()));
          usedBytes = tables.usedBytes();
          return null;
        });
  }

  @Override
  public synchronized List<Entry> oldest(int most) {
    return whole(
        () -> {
          SpoolTables.Read read = tables.oldest(most);
          while (!read.damaged().isEmpty()) {
            leaveOut(read.damaged());
            read = tables.oldest(most);
          }
          return read.entries();
        });
  }

  private void leaveOut(List<Long> ids) throws SQLException {
    if (tables.delete(ids) != ids.size()) {
      throw SpoolFaults.damage("rows are not where they should be");
    }
    damaged += ids.size();
    waiting -= ids.size();
    LOG.warn(
        "the spool {} gave back {} samples otherwise than they were written; they are left out",
        file,
        ids.size());
  }

  @Override
  public synchronized void settle(long upToId, List<Refused> refusals) {
    whole(
        () -> {
          waiting -= tables.settle(upToId, refusals);
          usedBytes = tables.usedBytes();
          if (!refusals.isEmpty()) {
            refused = tables.count("refused");
          }
          return null;
        });
  }

  /** Puts all samples that were refused back to be sent once more; returns how many. */
  public synchronized long retryRefused() {
    return whole(
        () -> {
          long before = waiting;
          while (refused > 0) {
            int retried = tables.retry(nextId, RETRIED_AT_ONCE);
            nextId += retried;
            waiting += retried;
            refused = tables.count("refused");
          }
          usedBytes = tables.usedBytes();
          return waiting - before;
        });
  }

  @Override
  public long newestUs(String tracker) {
    return newestUs.getOrDefault(tracker, Long.MIN_VALUE);
  }

  @Override
  public Status status() {
    return status;
  }

  private interface Work<T> {
    T run() throws SQLException;
  }

  /** Does the work; where the file shows to be broken, once more on a new one. */
  private <T> T whole(Work<T> work) {
    try {
      if (connection == null) {
        open();
      }
      try {
        return work.run();
      } catch (SQLException e) {
        rollBack();
        if (!SpoolFaults.isDamage(file, e)) {
          throw e;
        }
        disconnect();
        new SpoolRescue(file).run("is damaged: " + SpoolFaults.detail(e));
        open();
        return work.run();
      }
    } catch (SQLException e) {
      rollBack();
      throw SpoolFaults.of(file, e);
    } catch (IOException e) {
      throw SpoolFaults.unusable(file, e);
    } finally {
      publish();
    }
  }

  /** Takes back what was begun; it may have ended by itself. */
  private void rollBack() {
    if (connection == null) {
      return;
    }
    try {
      SpoolFile.execute(connection, "ROLLBACK");
    } catch (SQLException e) {
      LOG.debug("nothing to roll back", e);
    }
  }

  private void disconnect() {
    if (connection != null) {
      try {
        connection.close();
      } catch (SQLException e) {
        LOG.debug("closing the spool {}", file, e);
      }
      connection = null;
    }
  }

  @Override
  public synchronized void close() {
    disconnect();
    try {
      lock.close();
    } catch (IOException e) {
      throw new SpoolException("the spool's lock could not be given back: " + e.getMessage(), e);
    }
  }
}
