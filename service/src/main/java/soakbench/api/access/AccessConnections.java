package soakbench.api.access;

import java.net.InetSocketAddress;
import java.util.HashMap;
import java.util.Map;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.io.SelectableChannelEndPoint;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Bounds the connections of one client: more than that are closed as they come. A connection that
 * says nothing costs a file handle and some memory, and the system gives a program only so many.
 */
public final class AccessConnections implements Connection.Listener {
  private static final Logger LOG = LoggerFactory.getLogger(AccessConnections.class);

  private final int most;
  private final Map<Connection, String> clients = new HashMap<>();
  private final Map<String, Integer> open = new HashMap<>();

  public AccessConnections(int most) {
    this.most = most;
  }

  @Override
  public void onOpened(Connection connection) {
    String client = client(connection);
    if (client != null && !admit(connection, client)) {
      LOG.debug("{} has {} connections open; another one is closed", client, most);
      connection.getEndPoint().close();
    }
  }

  private synchronized boolean admit(Connection connection, String client) {
    int before = open.getOrDefault(client, 0);
    if (before >= most) {
      return false;
    }
    open.put(client, before + 1);
    clients.put(connection, client);
    return true;
  }

  /** By then the connection no longer knows whose it was. */
  @Override
  public synchronized void onClosed(Connection connection) {
    String client = clients.remove(connection);
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
