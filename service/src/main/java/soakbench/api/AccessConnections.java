package soakbench.api;

import java.net.InetSocketAddress;
import java.util.concurrent.ConcurrentHashMap;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.io.SelectableChannelEndPoint;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Bounds the connections of one client: more than that are closed as they come. A connection that
 * says nothing costs a file handle and some memory, and the system gives a program only so many.
 */
final class AccessConnections implements Connection.Listener {
  private static final Logger LOG = LoggerFactory.getLogger(AccessConnections.class);

  private final int most;
  private final ConcurrentHashMap<String, Integer> open = new ConcurrentHashMap<>();

  AccessConnections(int most) {
    this.most = most;
  }

  @Override
  public void onOpened(Connection connection) {
    String client = client(connection);
    if (client != null && open.merge(client, 1, Integer::sum) == most + 1) {
      LOG.info("{} has {} connections open; more of them are closed", client, most);
    }
    if (client != null && open.getOrDefault(client, 0) > most) {
      connection.getEndPoint().close();
    }
  }

  @Override
  public void onClosed(Connection connection) {
    String client = client(connection);
    if (client != null) {
      open.computeIfPresent(client, (key, count) -> count == 1 ? null : count - 1);
    }
  }

  /** Null for what runs inside of a connection: HTTP inside of TLS. */
  private static String client(Connection connection) {
    if (connection.getEndPoint() instanceof SelectableChannelEndPoint network
        && network.getRemoteSocketAddress() instanceof InetSocketAddress remote
        && remote.getAddress() != null) {
      return AccessLoad.client(remote.getAddress().getHostAddress());
    }
    return null;
  }
}
