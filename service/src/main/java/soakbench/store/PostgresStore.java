package soakbench.store;

import java.sql.Connection;
import java.util.concurrent.atomic.AtomicBoolean;
import soakbench.live.SoakStore;
import soakbench.store.connection.Pools;

/** The store on PostgreSQL. A unit of work is a transaction on one connection. */
final class PostgresStore implements SoakStore {
  private final Pools pools;
  private final SoakChanges changed;
  private final AtomicBoolean unitOpen = new AtomicBoolean();

  /**
   * @param changed marks what every committed unit changed
   */
  PostgresStore(Pools pools, SoakChanges changed) {
    this.pools = pools;
    this.changed = changed;
  }

  @Override
  public Unit begin() {
    if (!unitOpen.compareAndSet(false, true)) {
      throw new IllegalStateException("a unit of work is open already; close it first");
    }
    try {
      return unit(pools.beginWriting(), () -> unitOpen.set(false));
    } catch (RuntimeException e) {
      unitOpen.set(false);
      throw e;
    }
  }

  private Unit unit(Connection connection, Runnable whenClosed) {
    return new PostgresUnit(connection, whenClosed, changed, pools.announcements());
  }

  @Override
  public Reader reader() {
    return new PostgresReader(pools);
  }

  @Override
  public Unit beginReading() {
    return unit(pools.beginReading(), () -> {});
  }

  @Override
  public boolean othersMayHaveWritten() {
    return pools.othersMayHaveWritten();
  }
}
