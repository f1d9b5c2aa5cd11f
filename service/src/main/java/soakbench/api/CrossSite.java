package soakbench.api;

import io.javalin.http.Context;
import java.util.Set;

/**
 * Keeps pages of other sites from changing anything through the browser of somebody who can reach
 * this service: there is no password that would stop them.
 */
final class CrossSite {
  private static final Set<String> READING = Set.of("GET", "HEAD", "OPTIONS");

  private CrossSite() {}

  static void refuse(Context ctx) {
    String origin = ctx.header("Origin");
    if (origin == null || READING.contains(ctx.method().name())) {
      return;
    }
    String authority = origin.substring(origin.indexOf("//") < 0 ? 0 : origin.indexOf("//") + 2);
    if (!authority.equalsIgnoreCase(ctx.host())) {
      throw new ProblemException(
          Problem.Kind.CROSS_SITE,
          "The request comes from a page of "
              + origin
              + ", not of this service. Programs leave"
              + " the Origin header out.");
    }
  }
}
