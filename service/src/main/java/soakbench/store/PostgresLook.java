package soakbench.store;

import soakbench.store.connection.Pools;

/**
 * Reads beside the writer: a short transaction for each call, on a connection that is nobody's
 * between two of them.
 */
final class PostgresLook extends PostgresReads {
  private final Pools pools;

  PostgresLook(Pools pools) {
    this.pools = pools;
  }

  @Override
  <T> T run(String doing, Pools.Work<T> work) {
    return pools.export(doing, work);
  }

  @Override
  public void close() {
    // Nothing is held between two calls.
  }
}
