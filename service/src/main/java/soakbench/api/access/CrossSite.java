package soakbench.api.access;

import io.javalin.http.Context;
import java.util.Locale;
import java.util.Set;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;

/**
 * Keeps pages of other sites from changing anything through the browser of somebody who can reach
 * this service. Three marks that a page can't fake are looked at: where the browser says the
 * request comes from ({@code Origin}), how it calls that ({@code Sec-Fetch-Site}), and the forms of
 * content that a page may send to other sites without asking first.
 */
public final class CrossSite {
  private static final Set<String> READING = Set.of("GET", "HEAD", "OPTIONS");
  private static final Set<String> OWN = Set.of("same-origin", "none");

  /** The Fetch standard's "CORS-safelisted" content types. */
  private static final Set<String> SENT_UNASKED =
      Set.of("application/x-www-form-urlencoded", "multipart/form-data", "text/plain");

  private CrossSite() {}

  /** Whether the request changes nothing. */
  public static boolean reads(Context ctx) {
    return READING.contains(ctx.method().name());
  }

  /**
   * Refuses a writing request that a page of another site may have sent.
   *
   * @param form whether this address takes the content of a plain form
   * @throws ProblemException 403 for another site, 415 for content that one could send
   */
  static void refuse(Context ctx, boolean form) {
    if (reads(ctx)) {
      return;
    }
    String origin = ctx.header("Origin");
    String site = ctx.header("Sec-Fetch-Site");
    if (origin != null && !authority(origin).equalsIgnoreCase(ctx.host())
        || site != null && !OWN.contains(site.toLowerCase(Locale.ROOT))) {
      throw new ProblemException(
          Problem.Kind.CROSS_SITE,
          "The request comes from a page of "
              + (origin == null ? "another site" : origin)
              + ", not of this service. Programs leave"
              + " the Origin header out.");
    }
    if (!form) {
      refuseContent(ctx);
    }
  }

  /** Whether a browser says that a page of this service sent the request. */
  static boolean saidToBeOwn(Context ctx) {
    return ctx.header("Origin") != null || ctx.header("Sec-Fetch-Site") != null;
  }

  private static void refuseContent(Context ctx) {
    String type = ctx.contentType();
    String bare = type == null ? "" : type.split(";", 2)[0].strip().toLowerCase(Locale.ROOT);
    if (SENT_UNASKED.contains(bare)) {
      throw new ProblemException(
          Problem.Kind.UNSUPPORTED_MEDIA_TYPE,
          "Nothing here is taken as "
              + bare
              + ". Set Content-Type: application/json, application/x-ndjson or text/csv, as GET"
              + " /openapi.json says of each call.");
    }
  }

  private static String authority(String origin) {
    return origin.substring(origin.indexOf("//") < 0 ? 0 : origin.indexOf("//") + 2);
  }
}
