package soakbench.api;

import io.javalin.http.Context;
import java.util.Locale;

/** Checks what a request sends. */
final class Bodies {
  private Bodies() {}

  /**
   * Makes sure that the body is of the wanted type.
   *
   * @param what the beginning of a sentence, "Limits are taken"
   * @throws ProblemException 415 if it is of another, or says none
   */
  static void requireMediaType(Context ctx, String wanted, String what) {
    String type = ctx.contentType();
    if (type == null || !type.toLowerCase(Locale.ROOT).startsWith(wanted)) {
      throw new ProblemException(
          Problem.Kind.UNSUPPORTED_MEDIA_TYPE,
          what
              + " as "
              + wanted
              + "; set Content-Type. The request has "
              + (type == null ? "none." : type + "."));
    }
  }
}
