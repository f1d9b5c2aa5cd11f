package soakbench.api;

import org.eclipse.jetty.server.Connector;
import org.eclipse.jetty.server.ServerConnector;

/**
 * A service that does not wait, when it stops, for connections on which nothing goes on. Browsers
 * and HTTP clients keep theirs open for the next question, and each is granted a second to ask it
 * and another to say good-bye: two seconds of nearly every test that has a service of its own. What
 * a stop does to requests under way is the subject of other tests.
 */
public final class QuickStop {
  private static final long GRANTED_MS = 20;

  private QuickStop() {}

  /** The same server. */
  public static ApiServer of(ApiServer server) {
    for (Connector connector : server.javalin().jettyServer().server().getConnectors()) {
      ((ServerConnector) connector).setShutdownIdleTimeout(GRANTED_MS);
    }
    return server;
  }
}
