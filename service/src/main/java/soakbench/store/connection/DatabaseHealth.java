package soakbench.store.connection;

import java.util.Optional;

/**
 * The health of the database.
 *
 * @param ok whether it answered in time
 * @param kind {@code embedded} for our own server, {@code given} for one by address
 * @param chunks what of TimescaleDB is in use, as it was found last; null where there is none
 * @param serverVersion version of the server; null where it did not answer
 * @param message one line for people
 */
public record DatabaseHealth(
    boolean ok, String kind, ChunkStatus chunks, String serverVersion, String message) {

  /** Whether samples and bins are TimescaleDB hypertables. */
  public boolean hypertables() {
    return chunks != null && chunks.hypertables();
  }

  /** Whether old chunks of samples and bins are compressed. */
  public boolean compression() {
    return chunks != null && chunks.compression();
  }

  /** Whether minutes are put together from bins for charts over months. */
  public boolean minuteMeans() {
    return chunks != null && chunks.minuteMeans();
  }

  /** How far rows of before TimescaleDB came are moved into chunks; empty where none are to be. */
  public Optional<String> moving() {
    return Optional.ofNullable(chunks).flatMap(ChunkStatus::moving);
  }
}
