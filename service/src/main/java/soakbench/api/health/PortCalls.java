package soakbench.api.health;

import io.javalin.http.Context;
import java.util.List;
import soakbench.api.http.AnswerForm;
import soakbench.api.http.Answers;
import soakbench.api.http.Routes;
import soakbench.ingest.spool.Spool;

/** How the ports of the rack that this service reads stand, and their spool. */
public final class PortCalls {
  private final ReadingState reading;

  public PortCalls(ReadingState reading) {
    this.reading = reading;
  }

  public void addTo(Routes routes) {
    routes.table("/api/ports", this::all);
  }

  /**
   * The whole answer.
   *
   * @param spool null where no rack is read
   */
  record Ports(List<PortView> ports, Spool.Standing spool, String next) {}

  private void all(Context ctx) {
    AnswerForm form = AnswerForm.wanted(ctx);
    List<PortView> ports = reading.ports().stream().map(PortView::of).toList();
    if (form == AnswerForm.CSV) {
      PortView.TABLE.answer(ctx, ports);
    } else {
      Answers.json(ctx, new Ports(ports, reading.spool().orElse(null), null));
    }
  }
}
