package soakbench.store.chunks;

import java.sql.Connection;
import java.sql.SQLException;
import java.util.List;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.live.StoreException;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Retries;
import soakbench.store.server.ChunkSettings;
import soakbench.store.server.ServerAddress;

/**
 * Sees to it that samples and bins lie in chunks, beside the service that writes them: moves what
 * was there before TimescaleDB came, then adds what builds on chunks. Nothing of the service waits
 * for it.
 */
public final class Chunks implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(Chunks.class);
  private static final List<String> TABLES = List.of("sample", "bin");
  private static final long PAUSE_MS = 5_000;

  private final Pools pools;
  private Thread mover;
  private volatile boolean closed;

  public Chunks(Pools pools) {
    this.pools = pools;
  }

  /**
   * Begins, or goes on where an earlier program was; returns at once where rows are to be moved.
   *
   * @param address with TimescaleDB, its tables brought up to date, in {@code pools} already
   */
  public synchronized void start(ServerAddress address, ChunkSettings settings) {
    boolean done = Retries.untilThere(() -> pools.request("looking for chunks", Chunks::areThere));
    if (done) {
      addFeatures(address, settings);
    } else if (mover == null && !closed) {
      mover = Daemons.thread("chunks", () -> safely(address, settings));
      mover.start();
    }
  }

  private static boolean areThere(Connection c) throws SQLException {
    for (String table : TABLES) {
      if (ChunkMove.isPlain(c, table)) {
        return false;
      }
    }
    return true;
  }

  private void safely(ServerAddress address, ChunkSettings settings) {
    try {
      move(address, settings);
    } catch (RuntimeException | Error e) {
      LOG.error("a mistake of the program while rows were moved into chunks", e);
    }
  }

  private void addFeatures(ServerAddress address, ChunkSettings settings) {
    try (ChunkTurn turn = ChunkTurn.await(address, () -> closed)) {
      if (turn.isHeld()) {
        ChunkFeatures.add(address, settings);
      }
    }
  }

  private void move(ServerAddress address, ChunkSettings settings) {
    boolean done = false;
    while (!done && !closed) {
      try (ChunkTurn turn = ChunkTurn.await(address, () -> closed)) {
        done = move(turn, address, settings);
      }
    }
  }

  /** Returns false where it is to stop, or has lost its turn. */
  private boolean move(ChunkTurn turn, ServerAddress address, ChunkSettings settings) {
    for (String table : TABLES) {
      int hours = table.equals("bin") ? settings.binHours() : settings.sampleHours();
      if (!moveAll(turn, new ChunkMove(table, hours))) {
        return false;
      }
    }
    LOG.info("all rows lie in chunks");
    ChunkFeatures.add(address, settings);
    return true;
  }

  private boolean moveAll(ChunkTurn turn, ChunkMove move) {
    String logged = "";
    while (!closed && turn.isHeld()) {
      try {
        move.all(pools, () -> closed || !turn.isHeld());
        return !closed && turn.isHeld();
      } catch (StoreException e) {
        if (!closed && !logged.equals(e.getMessage())) {
          logged = e.getMessage();
          LOG.warn("moving rows into chunks waits: {}", logged);
        }
      }
      if (!Retries.slept(PAUSE_MS)) {
        return false;
      }
    }
    return false;
  }

  /** Stops moving, after the piece under way; the next start goes on where it was. */
  @Override
  public void close() {
    closed = true;
  }
}
