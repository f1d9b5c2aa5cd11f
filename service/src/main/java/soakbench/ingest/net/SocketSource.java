package soakbench.ingest.net;

import java.io.IOException;
import java.net.SocketAddress;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.host.FaultLog;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.rackfile.ListenAddress;
import soakbench.ingest.source.Source;
import soakbench.ingest.source.SourceKind;
import soakbench.ingest.source.SourceStatus;

/**
 * A socket that trackers send to, on a thread of its own; tried again each second until it opens.
 */
abstract class SocketSource implements Source {
  private static final Logger LOG = LoggerFactory.getLogger(SocketSource.class);
  private static final int RETRY_MS = 1000;

  private final SourceKind kind;
  private final ListenAddress address;
  private final CountDownLatch stopping = new CountDownLatch(1);
  private final Thread thread;
  private volatile SocketState state;

  /** Who sends to it. */
  final NetSenders senders;

  final ArrivalClock clock;

  /** What failed while lines were taken. */
  final FaultLog faults;

  SocketSource(SourceKind kind, ListenAddress address, NetSenders senders, ArrivalClock clock) {
    this.kind = kind;
    this.address = address;
    this.senders = senders;
    this.clock = clock;
    this.faults = new FaultLog(LOG, "listening over " + kind);
    this.state = SocketState.notTried(address);
    this.thread = Daemons.thread(kind + " lines", this::run);
  }

  /**
   * Opens the socket, reports it by {@link #listens}, and reads until {@link #isStopping}.
   *
   * @throws IOException if it can't be opened, or breaks
   */
  abstract void listen(ListenAddress at) throws IOException;

  /** The newest text that was sent to a tracker, or empty. */
  abstract String sent();

  @Override
  public void start() {
    thread.start();
  }

  @Override
  public void stop() {
    stopping.countDown();
  }

  @Override
  public void close() {
    stop();
    Daemons.join(thread);
    senders.stop();
  }

  final boolean isStopping() {
    return stopping.getCount() == 0;
  }

  final void listens(SocketAddress at) {
    state = SocketState.open(at);
    LOG.info("listening for lines over {} at {}", kind, state.address());
  }

  private void run() {
    try {
      while (!isStopping()) {
        try {
          listen(address);
        } catch (IOException e) {
          SocketState now = SocketState.closed(address, kind, e);
          if (!now.equals(state)) {
            LOG.warn(now.reason());
          }
          state = now;
        } catch (RuntimeException e) {
          faults.add(e);
          state = SocketState.closed(address, kind, e);
        }
        stopping.await(RETRY_MS, TimeUnit.MILLISECONDS);
      }
    } catch (InterruptedException e) {
      LOG.debug("interrupted", e);
    }
  }

  @Override
  public SourceStatus status() {
    return state.status(kind, senders, sent(), clock);
  }
}
