package soakbench.api.access;

import java.security.KeyStore;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.SecureRequestCustomizer;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.server.SslConnectionFactory;
import org.eclipse.jetty.util.ssl.SslContextFactory;

/** HTTP inside of TLS 1.2 or 1.3. */
public final class AccessTls {
  private AccessTls() {}

  public static ServerConnector connector(Server server, HttpConfiguration http, KeyStore keys) {
    SslContextFactory.Server tls = new SslContextFactory.Server();
    tls.setKeyStore(keys);
    tls.setKeyStorePassword("");
    tls.setIncludeProtocols("TLSv1.3", "TLSv1.2");
    // Whether the name is ours is asked by AccessHosts, which also knows addresses.
    http.addCustomizer(new SecureRequestCustomizer(false));
    HttpConnectionFactory inside = new HttpConnectionFactory(http);
    return new ServerConnector(server, new SslConnectionFactory(tls, inside.getProtocol()), inside);
  }
}
