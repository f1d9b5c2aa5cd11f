package soakbench.api;

import io.javalin.http.Context;
import org.eclipse.jetty.ee10.servlet.ServletContextRequest;

/** What only the HTTP server below the framework can do. */
final class Connections {
  private Connections() {}

  /**
   * Closes the client's connection at once, from any thread; a write that is blocked on it fails.
   * For an answer that broke off, so that half a table is never taken for a whole one.
   */
  static void abort(Context ctx) {
    ServletContextRequest.getServletContextRequest(ctx.req())
        .getConnectionMetaData()
        .getConnection()
        .getEndPoint()
        .close();
  }
}
