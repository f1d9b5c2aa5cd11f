package soakbench.store.room;

import java.io.IOException;
import java.nio.file.FileStore;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import soakbench.live.StoreException;
import soakbench.model.Estimate;
import soakbench.store.connection.Pools;
import soakbench.store.connection.Query;

/**
 * Watches the room of the database: of our own server that of the disk with its folder; of a given
 * one its size, and what people say that it has. Thread-safe.
 */
public final class RoomWatch {
  private static final String SIZE = "SELECT pg_database_size(current_database())";

  private static final String NO_DISK =
      "what the disk of a given server has left is not known here: a database can't tell; say what"
          + " it has for this database with --db-room-gb";

  private final Pools pools;
  private final Path folder;
  private final Growth growth = new Growth();
  private volatile RoomLimits limits = RoomLimits.DEFAULT;
  private volatile Room newest;

  /**
   * @param folder our own server's; null for a given one
   */
  public RoomWatch(Pools pools, Path folder) {
    this.pools = pools;
    this.folder = folder;
  }

  public RoomLimits limits() {
    return limits;
  }

  public void limits(RoomLimits given) {
    limits = given;
  }

  /** As it was found last; empty before that. */
  public Optional<Room> newest() {
    return Optional.ofNullable(newest);
  }

  /**
   * Looks; to be called about once a minute.
   *
   * @param ns by a clock that never steps
   * @throws StoreException if the database or its disk does not answer; what was found last stays
   */
  public synchronized Room look(long ns) {
    long bytes =
        pools.request(
            "asking for its size", c -> Query.list(c, rows -> rows.getLong(1), SIZE).get(0));
    newest = folder == null ? ofGiven(ns, bytes) : ofDisk(ns, bytes);
    return newest;
  }

  private Room ofDisk(long ns, long bytes) {
    try {
      FileStore disk = Files.getFileStore(folder);
      long free = disk.getUsableSpace();
      growth.take(ns, disk.getTotalSpace() - free);
      Estimate perDay = growth.bytesPerDay();
      return new Room(bytes, free, disk.getTotalSpace(), perDay, daysLeft(free, perDay), null);
    } catch (IOException e) {
      throw new StoreException("the disk of " + folder + " can't be asked", e, true);
    }
  }

  private Room ofGiven(long ns, long bytes) {
    growth.take(ns, bytes);
    Estimate perDay = growth.bytesPerDay();
    Long given = limits.givenBytes();
    if (given == null) {
      return new Room(bytes, null, null, perDay, Estimate.unknown(NO_DISK), NO_DISK);
    }
    long free = Math.max(0, given - bytes);
    return new Room(bytes, free, given, perDay, daysLeft(free, perDay), null);
  }

  /** The interval is that of the rate; where it may not grow at all, it has no later end. */
  static Estimate daysLeft(long freeBytes, Estimate perDay) {
    if (!perDay.known()) {
      return Estimate.unknown("how fast it grows is not known: " + perDay.reason());
    }
    if (perDay.value() <= 0) {
      return Estimate.unknown("it does not grow");
    }
    double days = freeBytes / perDay.value();
    double latest = perDay.low() > 0 ? freeBytes / perDay.low() : Double.POSITIVE_INFINITY;
    return Estimate.of(
        days, days * perDay.se() / perDay.value(), freeBytes / perDay.high(), latest);
  }
}
