package soakbench.store.connection;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Collection;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.ThreadLocalRandom;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.concurrent.atomic.AtomicReference;
import java.util.concurrent.locks.ReentrantLock;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.live.StoreException;
import soakbench.model.RackSet;
import soakbench.store.server.ServerAddress;

/**
 * The right to write to a database for a set of racks: advisory locks on a connection of its own,
 * so that the server takes it back when the program is gone, however it ended. Others can read who
 * holds it.
 *
 * <p>A lost connection is noticed late, so every transaction that writes asks the server as well:
 * with the lock goes a second one under a number that nobody else has, and a transaction that could
 * get the second one knows that the right is held no longer. Each transaction holds a third one,
 * shared, to its end; a program that takes over waits for that once, so no work of the former
 * writer comes in between.
 */
public final class WriterLock implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(WriterLock.class);

  private static final int NUMBERS = 0x50AC;
  private static final int ANSWER_S = 10;
  private static final long POLL_MS = 1_000;
  private static final long REST_NS = TimeUnit.SECONDS.toNanos(1);

  /** After so long another holder keeps the right: until then it may be about to end. */
  private static final long GIVEN_UP_NS = TimeUnit.SECONDS.toNanos(10);

  private record Held(Connection connection, int number) {}

  /** Another program that was found to hold it, from then on at each check. */
  private record Other(Lease lease, long sinceNs) {}

  private final ServerAddress address;
  private final RackLocks locks;
  private final AtomicBoolean othersMayHaveWritten = new AtomicBoolean();
  private final Object closing = new Object();
  private final AtomicReference<Held> heldLock = new AtomicReference<>();
  private final ReentrantLock asking = new ReentrantLock();
  private volatile long askedNs = System.nanoTime() - REST_NS;
  private volatile Other other;
  private volatile String whyNot = "the right to write to the database was not asked for";
  private volatile boolean closed;
  private volatile Thread watcher;

  /**
   * @param racks those to write for
   */
  public WriterLock(ServerAddress address, RackSet racks) {
    this.address = address;
    this.locks = new RackLocks(racks);
  }

  /**
   * Takes the right to write, if nobody has it, and keeps it from then on.
   *
   * @throws StoreException if the server does not answer
   */
  public boolean tryTake() {
    asking.lock();
    try {
      return heldLock.get() != null || take();
    } catch (SQLException e) {
      // The holder is not known now, so it is not reported as lost for good.
      other = null;
      throw DatabaseFaults.of("asking for the right to write", e);
    } finally {
      askedNs = System.nanoTime();
      asking.unlock();
    }
  }

  private boolean take() throws SQLException {
    Connection connection = address.dataSource(ANSWER_S).getConnection();
    boolean kept = false;
    try {
      Optional<Held> taken = on(connection);
      if (taken.isEmpty()) {
        seen(locks.conflicting(connection));
        return false;
      }
      kept = true;
      keep(taken.get());
      return true;
    } finally {
      if (!kept) {
        connection.close();
      }
    }
  }

  private void seen(List<Lease> conflicting) {
    Other before = other;
    long sinceNs = before == null ? System.nanoTime() : before.sinceNs();
    other =
        conflicting.stream()
            .filter(lease -> !lease.holder().isThisProgram())
            .findFirst()
            .map(lease -> new Other(lease, sinceNs))
            .orElse(null);
  }

  private void keep(Held taken) {
    other = null;
    heldLock.set(taken);
    if (closed) {
      // Closed while it was requested: either side sees the other, and nobody keeps it.
      letGo();
    } else if (watcher == null) {
      watcher = Daemons.thread("writer-lock", this::watch);
      watcher.start();
    }
  }

  private Optional<Held> on(Connection c) throws SQLException {
    if (!locks.take(c)) {
      return Optional.empty();
    }
    int number = ThreadLocalRandom.current().nextInt();
    try (Statement statement = c.createStatement()) {
      statement.execute("SELECT pg_advisory_lock(%d, %d)".formatted(NUMBERS, number));
      statement.execute("SET lock_timeout = '5s'");
    }
    locks.awaitFormer(c);
    Query.list(
        c,
        rows -> rows.getString(1),
        "SELECT set_config('application_name', ?, false)",
        WriterName.ofThis());
    return Optional.of(new Held(c, number));
  }

  /** Whether this program has the right to write, as far as it knows. */
  public boolean isHeld() {
    return heldLock.get() != null;
  }

  /** Whether it is the right to write to this server. */
  public boolean isOf(ServerAddress server) {
    return address.equals(server);
  }

  /** Who holds it in place of this one, and has for too long to give it back soon. */
  public Optional<Lease> supersededBy() {
    Other found = other;
    boolean lost = found != null && watcher != null && !isHeld();
    return lost && System.nanoTime() - found.sinceNs() >= GIVEN_UP_NS
        ? Optional.of(found.lease())
        : Optional.empty();
  }

  /**
   * Requests it at once where it was lost, so that work goes on as soon as the server is back. At
   * most once a second, by one of all threads that want to write; the others don't wait.
   */
  void takeIfLost() {
    boolean rested = System.nanoTime() - askedNs >= REST_NS;
    if (!isHeld() && watcher != null && !closed && rested) {
      takeAgain();
    }
  }

  /**
   * To be called in every transaction that writes, before it does.
   *
   * @throws StoreException if this program may not write now
   */
  void check(Connection writing) throws SQLException {
    Held held = heldLock.get();
    if (held == null) {
      throw new StoreException(whyNot, null, true);
    }
    String sql =
        "SELECT pg_try_advisory_xact_lock_shared(%d, %d) FROM"
            + " (SELECT count(pg_advisory_xact_lock_shared(space, id)::text) FROM %s) AS first";
    if (RackLocks.is(writing, sql.formatted(NUMBERS, held.number(), locks.ofTransaction()))) {
      lose(held, "its connection has ended");
      throw new StoreException(whyNot, null, true);
    }
  }

  /** Whether others may have written since this was asked for the last time. */
  boolean othersMayHaveWritten() {
    return othersMayHaveWritten.getAndSet(false);
  }

  /**
   * The first program that holds the right to write for some of these racks now; empty for none.
   *
   * @throws StoreException if the server does not answer
   */
  public Optional<Lease> holder() {
    try (Connection c = address.dataSource(ANSWER_S).getConnection()) {
      return holder(c);
    } catch (SQLException e) {
      throw DatabaseFaults.of("asking who writes", e);
    }
  }

  /** The same on a connection that there is. */
  public Optional<Lease> holder(Connection c) throws SQLException {
    return locks.conflicting(c).stream().findFirst();
  }

  /**
   * Who writes for which racks, whatever racks this one is about; the oldest first.
   *
   * @param names the racks to look for
   */
  public static List<Lease> leases(Connection c, Collection<String> names) throws SQLException {
    return RackLocks.held(c, names);
  }

  private void watch() {
    while (!closesWithin(POLL_MS)) {
      Held held = heldLock.get();
      if (held == null) {
        takeAgain();
      } else {
        poll(held);
      }
    }
  }

  private void poll(Held held) {
    try {
      RackLocks.is(held.connection(), "SELECT true");
    } catch (SQLException e) {
      lose(held, DatabaseFaults.detail(e));
    }
  }

  private void lose(Held held, String why) {
    if (closed || !heldLock.compareAndSet(held, null)) {
      return;
    }
    othersMayHaveWritten.set(true);
    whyNot =
        "the right to write to the database was lost (%s); it is asked for again".formatted(why);
    LOG.warn("{}", whyNot);
    try {
      held.connection().close();
    } catch (SQLException e) {
      LOG.debug("closing the lock's connection", e);
    }
  }

  private void takeAgain() {
    if (!asking.tryLock()) {
      return;
    }
    try {
      if (isHeld() || closed) {
        return;
      }
      if (tryTake()) {
        LOG.info("has the right to write to the database again");
        return;
      }
      log(heldBy(other));
    } catch (StoreException e) {
      // Logged by the work that needs it; here it is only requested.
      LOG.debug("asking for the right to write again", e);
    } finally {
      asking.unlock();
    }
  }

  private static String heldBy(Other found) {
    return found == null
        ? "the server has yet to notice that the connection with the right to write was lost"
        : "another service holds the right to write: %s; stop it, or this one"
            .formatted(found.lease().words());
  }

  private void log(String why) {
    if (!why.equals(whyNot)) {
      whyNot = why;
      LOG.error("{}", why);
    }
  }

  private boolean closesWithin(long ms) {
    synchronized (closing) {
      try {
        if (!closed) {
          closing.wait(ms);
        }
      } catch (InterruptedException e) {
        return true;
      }
      return closed;
    }
  }

  /** Gives the right to write back. */
  @Override
  public void close() {
    synchronized (closing) {
      closed = true;
      closing.notifyAll();
    }
    letGo();
    whyNot = "the database is closed";
  }

  private void letGo() {
    Held held = heldLock.getAndSet(null);
    try {
      if (held != null) {
        held.connection().abort(Runnable::run);
      }
    } catch (SQLException e) {
      LOG.debug("closing the lock's connection", e);
    }
  }
}
