package soakbench.cli.running;

import java.io.PrintWriter;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import soakbench.host.Daemons;
import soakbench.ingest.Agent;
import soakbench.ingest.sending.DeliveryTotals;
import soakbench.ingest.source.SourceStatus;
import soakbench.ingest.spool.Spool;

/** Prints an agent's status once a minute, in one line. */
public final class AgentReport implements AutoCloseable {
  private final Agent agent;
  private final PrintWriter out;
  private final ScheduledExecutorService timer =
      Executors.newSingleThreadScheduledExecutor(Daemons.named("report"));

  public AgentReport(Agent agent, PrintWriter out) {
    this.agent = agent;
    this.out = out;
  }

  public void start() {
    timer.scheduleWithFixedDelay(this::print, 1, 1, TimeUnit.MINUTES);
  }

  private void print() {
    out.println(line(agent));
    out.flush();
  }

  static String line(Agent agent) {
    List<SourceStatus> sources = agent.sources();
    Spool.Status spool = agent.spool();
    DeliveryTotals totals = agent.totals();
    return String.format(
        Locale.ROOT,
        "%d of %d ports open, %.0f lines/s, %d lines lost before they came; %d samples stored, %d"
            + " wait (spool %.0f %% full), %d refused; %s",
        sources.stream().filter(SourceStatus::open).count(),
        sources.size(),
        sources.stream().mapToDouble(source -> source.heard().linesPerS()).sum(),
        sources.stream().mapToLong(source -> source.heard().lost()).sum(),
        totals.accepted() + totals.duplicate() + totals.conflicting(),
        agent.waiting(),
        100.0 * spool.usedBytes() / spool.limitBytes(),
        spool.refused(),
        agent.trouble().orElse("all is well"));
  }

  @Override
  public void close() {
    timer.shutdownNow();
  }
}
