package soakbench.api;

import io.javalin.http.Context;

/** Answers in JSON. */
final class Answers {
  private Answers() {}

  /** Answers with a record; never to be kept by a cache, since it is about now. */
  static void json(Context ctx, Object value) {
    ctx.header("Cache-Control", "no-store").result(Json.write(value));
    ctx.contentType("application/json");
  }
}
