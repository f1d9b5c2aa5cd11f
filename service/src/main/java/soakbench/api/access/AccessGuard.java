package soakbench.api.access;

import io.javalin.http.Context;
import java.util.Locale;
import java.util.Set;
import soakbench.api.http.CellErrors;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.Routes;

/**
 * Checks every request, pages included: is it for this host, does it come from one of our pages or
 * a program, and is its sender allowed.
 */
public final class AccessGuard {
  private static final String BEARER = "bearer ";

  private static final String STRANGER = "asked without the token";

  /** What a browser needs to pair; nothing in it tells about trackers. */
  private static final Set<String> NEEDED_TO_PAIR =
      Set.of(AccessPairing.PAGE, "/css/frame.css", "/css/pair.css", "/favicon.svg");

  private final AccessSettings settings;
  private final AllowedHosts hosts;
  private final AccessPairing pairing;

  /**
   * @param host the address that the service listens on
   */
  public AccessGuard(String host, AccessSettings settings, AccessPairing pairing) {
    this.settings = settings;
    this.hosts = new AllowedHosts(host, settings.names());
    this.pairing = pairing;
  }

  /**
   * Lets the request pass.
   *
   * @throws ProblemException 421 for a name that is not ours, 403 for a page of another site, 401
   *     for somebody unknown
   * @throws PairFirstException for somebody unknown who asks for a page
   */
  public void check(Context ctx) {
    hosts.require(ctx);
    boolean pairs = ctx.path().equals(AccessPairing.PAGE);
    CrossSite.refuse(ctx, pairs);
    if (settings.token() == null || ctx.method().name().equals("OPTIONS")) {
      return;
    }
    boolean reads = CrossSite.reads(ctx);
    if (reads && settings.openReading() || pairs || reads && NEEDED_TO_PAIR.contains(ctx.path())) {
      return;
    }
    if (reads && ctx.path().equals(Routes.HEALTH)) {
      // Monitoring programs poll often and have no secrets: they get no more than the status.
      ctx.attribute(STRANGER, fault(ctx) != null);
      return;
    }
    String fault = fault(ctx);
    if (ctx.header("Authorization") != null) {
      if (fault != null) {
        throw needed(ctx, fault);
      }
    } else if (fault != null) {
      throw refusal(ctx, reads);
    } else if (!reads && !CrossSite.saidToBeOwn(ctx)) {
      throw needed(
          ctx, "A paired browser says which page a change comes from, and this one did not.");
    }
  }

  /** Whether this was let through without the token, to be given little. */
  public static boolean isStranger(Context ctx) {
    return Boolean.TRUE.equals(ctx.attribute(STRANGER));
  }

  /** Why the sender is not authenticated; null where it is. */
  private String fault(Context ctx) {
    String authorization = ctx.header("Authorization");
    if (authorization == null) {
      return pairing.isPaired(ctx) ? null : "It is neither a program with a token nor paired.";
    }
    if (!authorization.toLowerCase(Locale.ROOT).startsWith(BEARER)) {
      return "The Authorization header is not of the form Bearer TOKEN.";
    }
    return settings.token().is(authorization.substring(BEARER.length()).strip())
        ? null
        : "The token is not the one that this service was started with.";
  }

  private static RuntimeException refusal(Context ctx, boolean reads) {
    String accept = ctx.header("Accept");
    boolean page = reads && !CellErrors.isForPrograms(ctx.path());
    if (page && accept != null && accept.contains("text/html")) {
      return new PairFirstException();
    }
    return needed(
        ctx,
        (reads ? "Reading" : "Writing")
            + " needs the service's token: programs send Authorization: Bearer TOKEN, a browser is"
            + " paired at "
            + AccessPairing.PAGE
            + ".");
  }

  private static ProblemException needed(Context ctx, String detail) {
    ctx.header("WWW-Authenticate", "Bearer realm=\"soakbench\"");
    return new ProblemException(Problem.Kind.TOKEN_NEEDED, detail);
  }

  /** A person opened a page in a browser that is not paired. */
  public static final class PairFirstException extends RuntimeException {
    private static final long serialVersionUID = 1L;
  }

  public static void toPairing(PairFirstException e, Context ctx) {
    ctx.status(303).header("Location", AccessPairing.PAGE).header("Cache-Control", "no-store");
  }
}
