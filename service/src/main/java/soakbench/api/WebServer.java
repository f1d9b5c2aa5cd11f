package soakbench.api;

import io.javalin.compression.CompressionStrategy;
import io.javalin.compression.Gzip;
import io.javalin.config.JavalinConfig;
import java.net.URI;
import java.security.KeyStore;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.NetworkConnectionLimit;
import org.eclipse.jetty.server.SecureRequestCustomizer;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.server.SslConnectionFactory;
import org.eclipse.jetty.util.ssl.SslContextFactory;
import org.eclipse.jetty.util.thread.QueuedThreadPool;
import soakbench.api.access.AccessGuard;
import soakbench.api.access.AccessLimits;
import soakbench.api.access.AccessPairing;
import soakbench.api.access.AccessSettings;
import soakbench.api.access.ConnectionLimiter;
import soakbench.api.access.RequestLimiter;
import soakbench.api.health.ServiceGate;
import soakbench.api.http.JettyErrors;
import soakbench.api.http.Problems;

/** The HTTP server under all calls: where it listens, its limits, and who is let through. */
public final class WebServer {
  /** For {@link RequestLimiter#MOST_IN_FLIGHT} requests, a hundred streams, and {@code /health}. */
  private static final int THREADS = 300;

  /**
   * Of 650 kB of rows for a chart the quickest, 1, leaves 90 kB after 2.4 ms, this one 73 kB after
   * 3.8, and the usual one, 6, 63 kB after 6.9 (zlib alone, numbers drawn at random).
   */
  private static final int GZIP_LEVEL = 4;

  private static final int MOST_CONNECTIONS = 1_000;
  private static final int HEADER_BYTES = 16 * 1024;
  private static final long SLOWEST_UPLOAD_BYTES_PER_S = 50;
  private static final long LARGEST_DOCUMENT_BYTES = 4L << 20;
  private static final long STOP_WITHIN_MS = 4_000;

  private WebServer() {}

  /** All of the server but its calls. */
  public static void configure(JavalinConfig config, ApiSettings settings, AccessPairing pairing) {
    config.startup.showJavalinBanner = false;
    config.startup.showOldJavalinVersionWarning = false;
    config.http.prefer405over404 = true;
    config.http.maxRequestSize = LARGEST_DOCUMENT_BYTES;
    config.http.compressionStrategy = new CompressionStrategy(null, new Gzip(GZIP_LEVEL));
    config.jetty.threadPool = new QueuedThreadPool(THREADS, 8);
    config.jetty.modifyServer(server -> harden(server, settings.access().limits()));
    config.jetty.modifyHttpConfiguration(WebServer::bound);
    config.jetty.modifyServletContextHandler(context -> context.setErrorHandler(new JettyErrors()));
    config.jetty.addConnector((server, http) -> connector(server, http, settings));
    config.router.javaLangErrorHandler(Problems::answerError);
    config.routes.before(PageCalls::secure);
    AccessGuard guard = new AccessGuard(settings.host(), settings.access(), pairing);
    config.routes.before(guard::check);
    config.routes.exception(ServiceGate.StartingException.class, ServiceGate::toPage);
    config.routes.exception(AccessGuard.PairFirstException.class, AccessGuard::toPairing);
    Problems.install(config.routes);
    PageCalls.addTo(config);
  }

  private static void harden(Server server, AccessLimits limits) {
    RequestLimiter.guard(server, limits);
    server.addBean(new NetworkConnectionLimit(MOST_CONNECTIONS, server));
    server.setErrorHandler(new JettyErrors());
    server.setStopTimeout(STOP_WITHIN_MS);
  }

  private static void bound(HttpConfiguration http) {
    http.setRequestHeaderSize(HEADER_BYTES);
    http.setMinRequestDataRate(SLOWEST_UPLOAD_BYTES_PER_S);
    http.setSendServerVersion(false);
    // Otherwise a token in the wrong case is read as an earlier one of the same connection.
    http.setHeaderCacheCaseSensitive(true);
  }

  private static ServerConnector connector(
      Server server, HttpConfiguration http, ApiSettings settings) {
    AccessSettings access = settings.access();
    ServerConnector connector =
        access.keys() == null
            ? new ServerConnector(server, new HttpConnectionFactory(http))
            : overTls(server, http, access.keys());
    connector.addBean(new ConnectionLimiter(access.limits().connections()));
    connector.setHost(settings.host());
    connector.setPort(settings.port());
    connector.setIdleTimeout(settings.idle().toMillis());
    return connector;
  }

  /** HTTP inside of TLS 1.2 or 1.3. */
  private static ServerConnector overTls(Server server, HttpConfiguration http, KeyStore keys) {
    SslContextFactory.Server tls = new SslContextFactory.Server();
    tls.setKeyStore(keys);
    tls.setKeyStorePassword("");
    tls.setIncludeProtocols("TLSv1.3", "TLSv1.2");
    // Whether the name is ours is asked by AccessHosts, which also knows addresses.
    http.addCustomizer(new SecureRequestCustomizer(false));
    HttpConnectionFactory inside = new HttpConnectionFactory(http);
    return new ServerConnector(server, new SslConnectionFactory(tls, inside.getProtocol()), inside);
  }

  /** Where a browser on this computer finds it. */
  static URI url(ApiSettings settings, int port) {
    String host = settings.host();
    boolean everywhere = host.equals("0.0.0.0") || host.equals("::");
    String name = everywhere ? "127.0.0.1" : host.contains(":") ? "[" + host + "]" : host;
    return URI.create(settings.access().scheme() + "://" + name + ":" + port + "/");
  }
}
