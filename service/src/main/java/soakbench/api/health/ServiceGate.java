package soakbench.api.health;

import io.javalin.http.Context;
import java.util.List;
import java.util.Set;
import soakbench.api.access.AccessPairing;
import soakbench.api.access.CrossSite;
import soakbench.api.http.CellErrors;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;

/**
 * Checks every call: is the service ready for it, and may it change anything. Status calls and the
 * pages' own files are always answered.
 */
public final class ServiceGate {
  private static final String RETRY_S = "2";
  private static final Set<String> ALWAYS =
      Set.of("/health", "/metrics", "/openapi.json", "/openapi.yaml", AccessPairing.PAGE);

  /** Below an address of one thing a file lies a folder deeper than any id reaches. */
  private static final List<String> FILES =
      List.of(
          "/css/",
          "/js/",
          "/lib/",
          "/charts/",
          "/shared/",
          "/tracker/css/",
          "/tracker/js/",
          "/report/");

  private final ServiceStatus status;

  public ServiceGate(ServiceStatus status) {
    this.status = status;
  }

  /** The requested page is replaced by one that shows the progress of the start. */
  public static final class StartingException extends RuntimeException {
    private static final long serialVersionUID = 1L;

    StartingException(String step) {
      super(step);
    }
  }

  /**
   * Lets the request pass.
   *
   * @throws ProblemException 503 while the service starts, 409 for a change where it only reads
   * @throws StartingException for a page while it starts
   */
  public void check(Context ctx) {
    String path = ctx.path();
    if (ctx.method().name().equals("OPTIONS") || ALWAYS.contains(path)) {
      return;
    }
    if (!status.isAnswering() && !isFile(path)) {
      refuse(ctx, status.step().orElse("starting"));
    }
    if (status.isReadOnly() && !CrossSite.reads(ctx) && !isPreview(path)) {
      throw new ProblemException(
          Problem.Kind.READ_ONLY,
          "This service only reads what another one writes, so it changes nothing; send it to"
              + status.writer().map(w -> " that one: " + w).orElse(" the one that writes")
              + ".");
    }
  }

  private static void refuse(Context ctx, String step) {
    String accept = ctx.header("Accept");
    boolean page = CrossSite.reads(ctx) && !CellErrors.isForPrograms(ctx.path());
    if (page && accept != null && accept.contains("text/html")) {
      throw new StartingException(step);
    }
    ctx.header("Retry-After", RETRY_S);
    throw new ProblemException(Problem.Kind.STARTING, "The service is starting: " + step + ".");
  }

  /** Style sheets, scripts and pictures. */
  private static boolean isFile(String path) {
    return FILES.stream().anyMatch(path::startsWith) || path.equals("/favicon.svg");
  }

  /** It is sent by POST and changes nothing. */
  private static boolean isPreview(String path) {
    return path.equals("/api/limits/preview")
        || path.equals("/api/limits/preview.csv")
        || path.startsWith("/api/lots/") && path.endsWith("/screening-preview");
  }

  /** Answers with a page that reloads by itself. */
  public static void toPage(StartingException e, Context ctx) {
    ctx.status(503).header("Retry-After", RETRY_S).header("Cache-Control", "no-store");
    ctx.html(
        """
        <!doctype html>
        <html lang="en">
        <head>
          <meta charset="utf-8">
          <meta name="viewport" content="width=device-width, initial-scale=1">
          <meta name="color-scheme" content="light dark">
          <meta http-equiv="refresh" content="2">
          <title>Soakbench is starting</title>
          <link rel="icon" href="/favicon.svg" type="image/svg+xml">
          <link rel="stylesheet" href="/css/frame.css">
          <link rel="stylesheet" href="/css/pair.css">
        </head>
        <body>
          <header class="top"><p class="brand">Soakbench</p></header>
          <main class="pair">
            <h1>Soakbench is starting</h1>
            <p>%s. Nothing is judged yet: stay with the rack. This page opens by itself.</p>
          </main>
        </body>
        </html>
        """
            .formatted(html(e.getMessage())));
  }

  private static String html(String text) {
    String upper = Character.toUpperCase(text.charAt(0)) + text.substring(1);
    return upper.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
  }
}
