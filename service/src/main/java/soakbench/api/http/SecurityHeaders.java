package soakbench.api.http;

import java.util.function.BiConsumer;

/** What tells a browser to keep the pages to themselves: no foreign script, frame or guess. */
public final class SecurityHeaders {
  private static final String CONTENT_SECURITY_POLICY =
      "default-src 'self'; img-src 'self' data:; object-src 'none'; base-uri 'none';"
          + " form-action 'self'; frame-ancestors 'none'";

  private SecurityHeaders() {}

  public static void each(BiConsumer<String, String> header) {
    header.accept("Content-Security-Policy", CONTENT_SECURITY_POLICY);
    header.accept("X-Content-Type-Options", "nosniff");
    header.accept("Cross-Origin-Resource-Policy", "same-origin");
    header.accept("Referrer-Policy", "same-origin");
    header.accept("X-Frame-Options", "DENY");
  }
}
