package soakbench.api.http;

import io.javalin.http.Context;
import org.eclipse.jetty.ee10.servlet.ServletContextRequest;

/** What only the HTTP server below the framework can do. */
public final class Connections {
  private Connections() {}

  /**
   * Closes the client's connection at once. For an answer that broke off, so that half a table is
   * never taken for a whole one.
   */
  static void abort(Context ctx) {
    aborting(ctx).run();
  }

  /**
   * What closes the client's connection at once, from any thread and at any time; a write that is
   * blocked on it fails. To be asked for while the request is being answered: afterwards the server
   * no longer tells whose it was.
   */
  public static Runnable aborting(Context ctx) {
    return ServletContextRequest.getServletContextRequest(ctx.req())
            .getConnectionMetaData()
            .getConnection()
            .getEndPoint()
        ::close;
  }
}
