package soakbench.api.http;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import org.eclipse.jetty.http.BadMessageException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Drains a small body that was refused unread. Where the server closed the connection while the
 * client still sends, many clients would see a broken connection in place of the answer that says
 * what is wrong.
 */
final class UnreadBody {
  private static final Logger LOG = LoggerFactory.getLogger(UnreadBody.class);
  private static final long MOST_BYTES = 1 << 20;
  private static final long LONGEST_NS = 2_000_000_000L;

  private UnreadBody() {}

  static void passOver(Context ctx) {
    long length = ctx.req().getContentLengthLong();
    if (length <= 0 || length > MOST_BYTES || ctx.header("Expect") != null) {
      return;
    }
    long untilNs = System.nanoTime() + LONGEST_NS;
    byte[] buffer = new byte[8192];
    try {
      InputStream body = ctx.req().getInputStream();
      while (System.nanoTime() - untilNs < 0 && body.read(buffer) >= 0) {
        // Nothing is done with it.
      }
    } catch (IOException | IllegalStateException | BadMessageException e) {
      // It stopped coming, or a reader has it already: the answer is sent all the same.
      LOG.debug("{}: the rest of the body could not be passed over", ctx.path(), e);
    }
  }
}
