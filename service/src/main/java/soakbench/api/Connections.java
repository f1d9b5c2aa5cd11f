package soakbench.api;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import org.eclipse.jetty.ee10.servlet.ServletContextRequest;

/** What only the HTTP server below the framework can do. */
final class Connections {
  private static final int MOST_REST_BYTES = 1 << 20;

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

  /**
   * Reads what is left of a refused request's body, within reason. A server that closes a
   * connection with bytes unread resets it, and the client never hears why it was refused; where
   * the rest is too long, the client is at least told that the connection ends.
   */
  static void takeRest(Context ctx) {
    boolean hasBody =
        ctx.req().getContentLengthLong() > 0 || ctx.req().getHeader("Transfer-Encoding") != null;
    if (!hasBody) {
      return;
    }
    try {
      InputStream body = ctx.req().getInputStream();
      if (body.readNBytes(MOST_REST_BYTES).length == MOST_REST_BYTES) {
        ctx.header("Connection", "close");
      }
    } catch (IOException | RuntimeException unreadable) {
      // It was refused because it can't be read, or something else reads it.
      ctx.header("Connection", "close");
    }
  }
}
