package soakbench.live.memory;

import soakbench.live.SoakStore;

/**
 * A store in memory, for replay and tests: the same contract as the database, gone when the program
 * ends. Units may be opened by any thread, one at a time; what they do holds the store's lock.
 */
public final class MemoryStore implements SoakStore {
  public final MemoryTables tables;

  /** Keeps all samples. */
  public MemoryStore() {
    this(false);
  }

  private MemoryStore(boolean forgetful) {
    this.tables = new MemoryTables(forgetful);
  }

  /**
   * Keeps only the last minute of each tracker's samples: for a recording, whose samples come in
   * rising time, so that no second is ever derived again. Who asks for older ones, or writes them,
   * gets an {@link IllegalStateException}, never a wrong answer.
   */
  public static MemoryStore forgetful() {
    return new MemoryStore(true);
  }

  /**
   * @throws IllegalStateException if another unit is open
   */
  @Override
  public Unit begin() {
    tables.openUnit();
    return new MemoryUnit(tables);
  }

  @Override
  public Reader reader() {
    return new MemoryReader(tables);
  }
}
