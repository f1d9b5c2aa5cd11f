package soakbench.api.health;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;

/** The status of the ports of the rack that this service reads, and of their spool. */
public final class PortCalls {
  private final IngestStatus ingest;

  public PortCalls(IngestStatus ingest) {
    this.ingest = ingest;
  }

  public void addTo(Routes routes) {
    routes.table("/api/ports", this::all);
  }

  private void all(Context ctx, ResponseFormat form) {
    if (form == ResponseFormat.CSV) {
      PortTable.TABLE.csv(ctx, ingest.ports()::forEach);
      return;
    }
    Map<String, Object> answer = new LinkedHashMap<>();
    answer.put("ports", PortTable.TABLE.json(ingest.ports()));
    // Null where no rack is read.
    answer.put("spool", ingest.spool().orElse(null));
    answer.put("next", null);
    JsonResponses.json(ctx, answer);
  }
}
