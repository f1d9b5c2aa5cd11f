package soakbench.api.http;

import io.javalin.http.Context;
import java.io.IOException;

/** JSON responses. */
public final class JsonResponses {
  private JsonResponses() {}

  /** Answers with a record; never to be kept by a cache, since it is about now. */
  public static void json(Context ctx, Object value) {
    ctx.header("Cache-Control", "no-store").result(Json.write(value));
    ctx.contentType("application/json");
  }

  /**
   * Answers HEAD for what GET would stream: no length is given. Otherwise the server would say that
   * the answer is empty.
   */
  public static void headOfStream(Context ctx) throws IOException {
    ctx.res().flushBuffer();
  }
}
