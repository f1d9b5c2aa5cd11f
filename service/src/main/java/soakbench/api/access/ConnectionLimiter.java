package soakbench.api.access;

import java.net.InetSocketAddress;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import org.eclipse.jetty.io.Connection;
import org.eclipse.jetty.io.SelectableChannelEndPoint;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Bounds the connections of one client: more than that are closed as they come. A connection that
 * says nothing costs a file handle and some memory, and the system gives a program only so many.
 */
public final class ConnectionLimiter implements Connection.Listener {
  private static final Logger LOG = LoggerFactory.getLogger(ConnectionLimiter.class);

  private final ClientQuota shares;
  private final Map<Connection, String> clients = new ConcurrentHashMap<>();

  public ConnectionLimiter(int most) {
    this.shares = new ClientQuota(most);
  }

  @Override
  public void onOpened(Connection connection) {
    String client = client(connection);
    if (client == null) {
      return;
    }
    if (shares.take(client)) {
      clients.put(connection, client);
    } else {
      LOG.debug("{} has its share of connections open; another one is closed", client);
      connection.getEndPoint().close();
    }
  }

  /** By then the connection no longer knows whose it was. */
  @Override
  public void onClosed(Connection connection) {
    String client = clients.remove(connection);
    if (client != null) {
      shares.giveBack(client);
    }
  }

  /** Null for what runs inside of a connection: HTTP inside of TLS. */
  private static String client(Connection connection) {
    if (connection.getEndPoint() instanceof SelectableChannelEndPoint network
        && network.getRemoteSocketAddress() instanceof InetSocketAddress remote
        && remote.getAddress() != null) {
      return RequestLimiter.client(remote.getAddress().getHostAddress());
    }
    return null;
  }
}
