package soakbench.store;

import soakbench.store.connection.Pools;

/**
 * Reads beside the writer: a short transaction for each call, on a pooled connection that is given
 * back between two calls.
 */
final class PostgresReader extends PostgresQueries {
  private final Pools pools;

  PostgresReader(Pools pools) {
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
