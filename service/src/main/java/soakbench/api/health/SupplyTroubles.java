package soakbench.api.health;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import java.util.stream.Stream;
import soakbench.ingest.IngestAlarms;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.source.SourceTrouble;
import soakbench.ingest.spool.Spool;
import soakbench.store.connection.DatabaseHealth;

/**
 * All that is wrong on the way from the ports to the database, each thing once, with where it is:
 * first what concerns all trackers, then the ports in the order of the rack file.
 */
final class SupplyTroubles {
  /**
   * Something that is wrong.
   *
   * @param where {@code Slot A1}, {@code Spool}, {@code Database}
   * @param what in a sentence without a full stop
   */
  record Trouble(String where, String what) {}

  private final IngestStatus ingest;
  private final LongSupplier nowUs;
  private final Supplier<DatabaseHealth> database;
  private final ServiceStatus service;

  /**
   * @param nowUs by the clock that dates what is heard, microseconds since 1970
   */
  SupplyTroubles(
      IngestStatus ingest,
      LongSupplier nowUs,
      Supplier<DatabaseHealth> database,
      ServiceStatus service) {
    this.ingest = ingest;
    this.nowUs = nowUs;
    this.database = database;
    this.service = service;
  }

  List<Trouble> all() {
    List<Trouble> all = new ArrayList<>();
    ingest.stoppedReading().ifPresent(why -> add(all, "Rack", why));
    DatabaseHealth found = database.get();
    if (found.ok()) {
      // While the database is away that is why nothing is stored.
      ingest.notStored().ifPresent(why -> add(all, "Spool", why));
      if (service.isReadOnly() && service.writer().isEmpty()) {
        add(all, "Database", "no service writes to it, so nothing new is stored or shown");
      }
    } else {
      add(all, "Database", found.message());
    }
    ingest.spool().ifPresent(spool -> addSpool(all, spool));
    ingest.ports().forEach(port -> addPort(all, port));
    return all;
  }

  private void addPort(List<Trouble> all, SourceStatus port) {
    String where = port.slot().isEmpty() ? port.port() : "Slot " + port.slot();
    SourceTrouble.of(port, nowUs.getAsLong()).ifPresent(t -> add(all, where, t.what()));
  }

  private static void addSpool(List<Trouble> all, Spool.Status spool) {
    double percent = 100.0 * spool.usedBytes() / spool.limitBytes();
    Stream<String> parts =
        Stream.of(
            percent < IngestAlarms.WARNING_PERCENT
                ? ""
                : String.format(
                    Locale.ROOT,
                    "%.0f %% full, %d samples wait to be stored",
                    percent,
                    spool.waiting()),
            spool.refused() == 0 ? "" : spool.refused() + " samples were refused for good",
            spool.damaged() == 0 ? "" : spool.damaged() + " samples were damaged on the disk");
    String what = String.join(", ", parts.filter(p -> !p.isEmpty()).toList());
    if (!what.isEmpty()) {
      add(all, "Spool", what);
    }
  }

  private static void add(List<Trouble> all, String where, String what) {
    all.add(new Trouble(where, what.endsWith(".") ? what.substring(0, what.length() - 1) : what));
  }
}
