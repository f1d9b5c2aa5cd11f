package soakbench.ingest.net;

import java.io.IOException;
import java.io.InputStream;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.net.SocketTimeoutException;
import java.util.Set;
import java.util.concurrent.ConcurrentHashMap;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.host.Daemons;
import soakbench.ingest.identity.ArrivalClock;
import soakbench.ingest.rackfile.ListenAddress;
import soakbench.ingest.rackfile.ListenSettings;
import soakbench.ingest.source.Asker;
import soakbench.ingest.source.SourceKind;

/** Takes lines over connections, a thread for each of a bounded number. */
final class TcpSource extends SocketSource {
  private static final Logger LOG = LoggerFactory.getLogger(TcpSource.class);

  /** So many connections at a time. */
  static final int MOST = 64;

  /** A connection that is silent for so long is closed: its other end may be gone unnoticed. */
  private static final int IDLE_MS = 600_000;

  private static final int POLL_MS = 500;
  private static final int BUFFER_SIZE = 8192;

  private final ListenSettings settings;
  private final Set<Connection> connections = ConcurrentHashMap.newKeySet();

  /** What was sent last over a connection that is closed. */
  private volatile String sentBefore = "";

  TcpSource(ListenSettings settings, NetSenders senders, ArrivalClock clock) {
    super(SourceKind.TCP, settings.tcp(), senders, clock);
    this.settings = settings;
  }

  @Override
  public void stop() {
    super.stop();
    connections.forEach(Connection::close);
  }

  @Override
  public void close() {
    stop();
    connections.forEach(connection -> Daemons.join(connection.reading));
    super.close();
  }

  @Override
  void listen(ListenAddress at) throws IOException {
    try (ServerSocket server = new ServerSocket()) {
      server.setReuseAddress(true);
      server.setSoTimeout(POLL_MS);
      server.bind(at.resolved());
      listens(server.getLocalSocketAddress());
      accept(server);
    }
  }

  private void accept(ServerSocket server) throws IOException {
    while (!isStopping()) {
      try {
        begin(server.accept());
      } catch (SocketTimeoutException e) {
        // Nobody came.
      }
    }
  }

  private void begin(Socket socket) throws IOException {
    if (connections.size() >= MOST) {
      LOG.warn(
          "{} is not read: {} connections are open already", socket.getRemoteSocketAddress(), MOST);
      socket.close();
      return;
    }
    new Connection(socket).start();
  }

  @Override
  String sent() {
    return connections.stream()
        .map(connection -> connection.asker.sent())
        .filter(text -> !text.isEmpty())
        .findFirst()
        .orElse(sentBefore);
  }

  /** One connection, read on a thread of its own. */
  private final class Connection {
    private final Socket socket;
    private final InetSocketAddress from;
    private final Asker asker;
    private final Thread reading;

    Connection(Socket socket) {
      this.socket = socket;
      this.from = (InetSocketAddress) socket.getRemoteSocketAddress();
      this.asker = new Asker(settings.ask(), "connection from " + from, this::send);
      this.reading = Daemons.thread("lines from " + from, this::read);
    }

    void start() {
      connections.add(this);
      reading.start();
    }

    private void send(byte[] bytes) throws IOException {
      socket.getOutputStream().write(bytes);
    }

    void close() {
      asker.close();
      try {
        socket.close();
      } catch (IOException e) {
        LOG.debug("closing a connection", e);
      }
    }

    private void read() {
      try {
        NetSender sender = senders.at(from, clock.runningUs(), asker::rebooted).orElse(null);
        if (sender != null) {
          asker.opened();
          read(sender);
        }
      } catch (RuntimeException e) {
        faults.add(e);
      } finally {
        sentBefore = asker.sent().isEmpty() ? sentBefore : asker.sent();
        close();
        senders.remove(from, clock.runningUs());
        connections.remove(this);
      }
    }

    private void feed(NetSender sender, byte[] buffer, int length) {
      clock.nowUs();
      try {
        sender.feed(buffer, length, clock.runningUs());
      } catch (RuntimeException e) {
        faults.add(e);
      }
    }

    private void read(NetSender sender) {
      byte[] buffer = new byte[BUFFER_SIZE];
      try {
        socket.setSoTimeout(IDLE_MS);
        InputStream in = socket.getInputStream();
        for (int length = in.read(buffer); length >= 0; length = in.read(buffer)) {
          feed(sender, buffer, length);
        }
      } catch (SocketTimeoutException e) {
        LOG.info("{} was silent for {} s; its connection is closed", from, IDLE_MS / 1000);
      } catch (IOException e) {
        LOG.debug("the connection from {} broke", from, e);
      }
    }
  }
}
