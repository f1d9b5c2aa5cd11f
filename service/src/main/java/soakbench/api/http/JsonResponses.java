package soakbench.api.http;

import io.javalin.http.Context;
import java.io.IOException;
import java.nio.charset.StandardCharsets;

/** JSON responses. */
public final class JsonResponses {
  private JsonResponses() {}

  /**
   * Answers with a record; never to be kept by a cache, since it is about now, unless that was said
   * otherwise before.
   */
  public static void json(Context ctx, Object value) {
    head(ctx);
    ctx.result(Json.write(value));
  }

  /** The same with a tag, by which a client that has it already is told so. */
  public static void tagged(Context ctx, Object value) {
    head(ctx);
    byte[] json = Json.write(value).getBytes(StandardCharsets.UTF_8);
    if (!EntityTag.isKept(ctx, json)) {
      ctx.result(json);
    }
  }

  private static void head(Context ctx) {
    if (ctx.res().getHeader("Cache-Control") == null) {
      ctx.header("Cache-Control", "no-store");
    }
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
