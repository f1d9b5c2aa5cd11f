package soakbench.api.health;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.LongSupplier;
import java.util.function.Supplier;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.ingest.source.SourceStatus;
import soakbench.store.connection.DatabaseHealth;

/** The status of the ports of the rack that this service reads, and of their spool. */
public final class PortCalls {
  private final IngestStatus ingest;
  private final Table<SourceStatus> table;
  private final SupplyTroubles troubles;

  /**
   * @param nowUs by the clock that dates what is heard, microseconds since 1970
   * @param database its health, as it was found last
   */
  public PortCalls(
      IngestStatus ingest,
      LongSupplier nowUs,
      Supplier<DatabaseHealth> database,
      ServiceStatus service) {
    this.ingest = ingest;
    this.table = PortTable.of(nowUs);
    this.troubles = new SupplyTroubles(ingest, nowUs, database, service);
  }

  public void addTo(Routes routes) {
    routes.table("/api/ports", this::all);
  }

  private void all(Context ctx, ResponseFormat form) {
    if (form == ResponseFormat.CSV) {
      table.csv(ctx, ingest.ports());
      return;
    }
    Map<String, Object> answer = new LinkedHashMap<>();
    answer.put("ports", table.json(ingest.ports()));
    answer.put("troubles", troubles.all());
    // Null where no rack is read.
    answer.put("spool", ingest.spool().orElse(null));
    answer.put("next", null);
    JsonResponses.json(ctx, answer);
  }
}
