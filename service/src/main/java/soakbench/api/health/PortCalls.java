package soakbench.api.health;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.function.LongSupplier;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.ingest.source.SourceStatus;

/** The status of the ports of the rack that this service reads, and of their spool. */
public final class PortCalls {
  private final IngestStatus ingest;
  private final Table<SourceStatus> table;

  /**
   * @param nowUs by the clock that dates what is heard, microseconds since 1970
   */
  public PortCalls(IngestStatus ingest, LongSupplier nowUs) {
    this.ingest = ingest;
    this.table = PortTable.of(nowUs);
  }

  public void addTo(Routes routes) {
    routes.table("/api/ports", this::all);
  }

  private void all(Context ctx, ResponseFormat form) {
    if (form == ResponseFormat.CSV) {
      table.csv(ctx, ingest.ports()::forEach);
      return;
    }
    Map<String, Object> answer = new LinkedHashMap<>();
    answer.put("ports", table.json(ingest.ports()));
    // Null where no rack is read.
    answer.put("spool", ingest.spool().orElse(null));
    answer.put("next", null);
    JsonResponses.json(ctx, answer);
  }
}
