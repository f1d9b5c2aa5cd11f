package soakbench.api.health;

import io.javalin.http.Context;
import java.util.LinkedHashMap;
import java.util.Map;
import soakbench.api.http.AnswerForm;
import soakbench.api.http.Answers;
import soakbench.api.http.Routes;

/** How the ports of the rack that this service reads stand, and their spool. */
public final class PortCalls {
  private final ReadingState reading;

  public PortCalls(ReadingState reading) {
    this.reading = reading;
  }

  public void addTo(Routes routes) {
    routes.table("/api/ports", this::all);
  }

  private void all(Context ctx, AnswerForm form) {
    if (form == AnswerForm.CSV) {
      PortTable.TABLE.csv(ctx, reading.ports()::forEach);
      return;
    }
    Map<String, Object> answer = new LinkedHashMap<>();
    answer.put("ports", PortTable.TABLE.json(reading.ports()));
    // Null where no rack is read.
    answer.put("spool", reading.spool().orElse(null));
    answer.put("next", null);
    Answers.json(ctx, answer);
  }
}
