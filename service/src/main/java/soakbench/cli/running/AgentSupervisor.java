package soakbench.cli.running;

import java.util.Objects;
import java.util.Optional;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.api.ApiServer;
import soakbench.ingest.Agent;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.sending.Destination;
import soakbench.ingest.spool.Spool;
import soakbench.live.StoreException;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.store.Database;
import soakbench.store.connection.Lease;

/**
 * Supervises the agent that reads the rack: it runs for as long as this service has the right to
 * write, is closed once another service has that right, opened again when the right is back, and
 * retried where it can't be opened.
 */
final class AgentSupervisor implements AutoCloseable {
  private static final Logger LOG = LoggerFactory.getLogger(AgentSupervisor.class);

  private final Database database;
  private final ApiServer api;
  private final LiveVerdicts live;
  private Spool spool;
  private volatile Agent agent;
  private volatile String stopped;
  private volatile boolean closed;

  AgentSupervisor(Database database, ApiServer api, LiveVerdicts live) {
    this.database = database;
    this.api = api;
    this.live = live;
  }

  /** The agent; null while there is none. */
  Agent agent() {
    return agent;
  }

  /** Why it is not read though it should be; empty where it is, or where there is none. */
  Optional<String> stopped() {
    return Optional.ofNullable(stopped);
  }

  /**
   * Starts reading a rack's ports.
   *
   * @param keeping spools samples until the database has them; closed with this
   */
  synchronized void read(RackFile rack, Spool keeping) {
    if (closed) {
      keeping.close();
      throw new StoreException("the service was told to stop; the rack is not read", null, false);
    }
    spool = keeping;
    agent =
        new Agent(
            rack,
            spool,
            Destination.of(
                api.intake(),
                s -> database.retention().dropped().refusal(s.tracker(), s.timeUs()),
                () -> api.elsewhere(rack.rack())),
            reason -> LOG.error("reading has stopped: {}", reason),
            live.arrivals());
    api.useAgent(agent);
    agent.start();
  }

  /**
   * Opens it; where that fails, it is logged and {@link #check} tries again.
   *
   * @param open what calls {@link #read}, where there is a rack
   */
  void open(Runnable open) {
    try {
      open.run();
      report(null);
    } catch (RuntimeException e) {
      stop("it can't be opened: " + (e.getMessage() == null ? e : e.getMessage()));
    }
  }

  /** Checks periodically whether it is still this service's to read, or is again. */
  void check(Runnable open) {
    Optional<Lease> other = database.supersededBy();
    if (other.isPresent()) {
      if (agent != null) {
        stop("another service holds the right to write: " + other.get().words());
      }
    } else if (stopped != null && !closed && database.mayWrite()) {
      open(open);
    }
  }

  private synchronized void stop(String why) {
    report(why);
    leave();
  }

  private synchronized void report(String why) {
    if (why != null && !Objects.equals(why, stopped)) {
      LOG.error("the rack is not read: {}", why);
    } else if (why == null && stopped != null) {
      LOG.info("the rack is read again");
    }
    stopped = closed ? null : why;
    api.readingStopped(stopped);
  }

  private void leave() {
    Agent reader = agent;
    Spool kept = spool;
    agent = null;
    spool = null;
    api.useAgent(null);
    try {
      if (reader != null) {
        reader.close();
      }
    } finally {
      if (kept != null) {
        kept.close();
      }
    }
  }

  @Override
  public synchronized void close() {
    closed = true;
    leave();
  }
}
