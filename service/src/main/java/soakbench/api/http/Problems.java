package soakbench.api.http;

import io.javalin.config.RoutesConfig;
import io.javalin.http.Context;
import io.javalin.http.HttpResponseException;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.UUID;
import org.eclipse.jetty.http.BadMessageException;
import org.eclipse.jetty.io.EofException;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import soakbench.live.StoreException;

/** The one place where anything that goes wrong becomes a problem document. */
public final class Problems {
  private static final Logger LOG = LoggerFactory.getLogger(Problems.class);
  private static final String RETRY_SOON_S = "5";
  private static final String RETRY_LATER_S = "60";

  private Problems() {}

  public static void install(RoutesConfig routes) {
    routes.exception(ProblemException.class, (e, ctx) -> write(ctx, e.problem()));
    routes.exception(StoreException.class, Problems::storeFailed);
    routes.exception(HttpResponseException.class, Problems::refused);
    routes.exception(BadMessageException.class, Problems::unreadable);
    routes.exception(EofException.class, (e, ctx) -> clientLeft(ctx));
    routes.exception(ClientDisconnectedException.class, (e, ctx) -> clientLeft(ctx));
    routes.exception(Exception.class, Problems::ownMistake);
    routes.error(Problem.Kind.TIMEOUT.status, Problems::stoppedComing);
  }

  /** What the server finds wrong only while a handler reads the body: too slow, badly chunked. */
  private static void unreadable(BadMessageException e, Context ctx) {
    write(ctx, Problem.ofStatus(e.getCode(), "The body could not be read: " + e.getReason() + "."));
  }

  /** The framework answers by itself, and with nothing, where a body stops coming. */
  private static void stoppedComing(Context ctx) {
    if (!Problem.MEDIA_TYPE.equals(ctx.res().getContentType())) {
      write(
          ctx,
          Problem.of(
              Problem.Kind.TIMEOUT,
              "The body stopped coming before it was whole. Nothing of it was kept; send it"
                  + " again."));
    }
  }

  private static void clientLeft(Context ctx) {
    LOG.debug("{}: the client left before it had the whole answer", ctx.path());
    Connections.abort(ctx);
  }

  private static void storeFailed(StoreException e, Context ctx) {
    LOG.warn("{} {}: {}", ctx.method().name(), ctx.path(), e.getMessage());
    ctx.header("Retry-After", e.transientFault() ? RETRY_SOON_S : RETRY_LATER_S);
    write(ctx, Problem.of(Problem.Kind.STORE_UNAVAILABLE, e.getMessage()));
  }

  private static void refused(HttpResponseException e, Context ctx) {
    String detail =
        switch (e.getStatus()) {
          case 404 -> "Nothing is served at " + ctx.path() + ". GET /openapi.json lists all calls.";
          // The framework names this one detail otherwise where a browser asks.
          case 405 -> notAllowed(String.join(", ", e.getDetails().values()), ctx);
          case 413 -> "The body is larger than this call takes; send it in parts.";
          default -> e.getMessage();
        };
    write(ctx, Problem.ofStatus(e.getStatus(), detail));
  }

  private static String notAllowed(String allowed, Context ctx) {
    ctx.header("Allow", allowed);
    return ctx.method().name() + " is not for " + ctx.path() + "; it takes " + allowed + ".";
  }

  private static void ownMistake(Exception e, Context ctx) {
    write(ctx, ownMistake(ctx.method().name() + " " + ctx.path(), e));
  }

  private static Problem ownMistake(String request, Throwable cause) {
    String mark = UUID.randomUUID().toString().substring(0, 8);
    LOG.error("{} failed (mark {})", request, mark, cause);
    return Problem.of(
        Problem.Kind.INTERNAL_ERROR,
        "This is a mistake of the service, not of the request; its log has the details under the"
            + " mark "
            + mark
            + ". Please report it with those lines.");
  }

  /** Answers an {@link Error} thrown by a handler, which never reaches the exception handlers. */
  public static void answerError(HttpServletResponse response, Error error) {
    Problem problem = ownMistake("A request", error);
    if (response.isCommitted()) {
      throw error;
    }
    response.setStatus(problem.status());
    response.setContentType(Problem.MEDIA_TYPE);
    response.setHeader("Cache-Control", "no-store");
    try {
      response.getOutputStream().write(Json.write(problem).getBytes(StandardCharsets.UTF_8));
    } catch (IOException e) {
      LOG.debug("client left before the error could be told", e);
    }
  }

  /**
   * Answers with a problem. Where the answer is under way already nothing can be taken back, so the
   * connection is cut and the client sees that the answer is not whole.
   */
  public static void write(Context ctx, Problem problem) {
    write(ctx, problem.status(), problem);
  }

  public static void write(Context ctx, int status, Object document) {
    if (ctx.res().isCommitted()) {
      LOG.warn("{} broke off: {}", ctx.path(), Json.write(document));
      Connections.abort(ctx);
      return;
    }
    if (status != Problem.Kind.TIMEOUT.status) {
      UnreadBody.passOver(ctx);
    }
    if (CellErrors.isCell(ctx.path()) && document instanceof Problem problem) {
      CellErrors.write(ctx, problem);
      return;
    }
    // What the answer would have been had set its own; JSON names no charset.
    ctx.res().setCharacterEncoding(null);
    ctx.status(status).header("Cache-Control", "no-store");
    ctx.result(Json.write(document)).contentType(Problem.MEDIA_TYPE);
  }
}
