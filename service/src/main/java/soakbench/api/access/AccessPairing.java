package soakbench.api.access;

import io.javalin.http.Context;
import java.io.IOException;
import java.io.InputStream;
import java.net.URI;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.Routes;

/**
 * Exchanges a pairing code for a cookie: a phone or another browser is let in without typing the
 * token. The page is a plain form and works without scripts.
 */
public final class AccessPairing {
  public static final String PAGE = "/pair";

  private static final String RESOURCE = "/dashboards/pair.html";
  private static final int MOST_FORM_BYTES = 1_000;
  private static final String RETRY_S = "60";
  private static final String NO_PROBLEM = "<!-- problem -->";
  private static final String NO_CODE = "value=\"\"";

  private final AccessSettings settings;
  private final PairingCodes codes;
  private final PairingCookie cookies;
  private final String page = page();

  public AccessPairing(AccessSettings settings) {
    this.settings = settings;
    this.codes = new PairingCodes(settings.codeLife(), System::currentTimeMillis);
    this.cookies =
        settings.token() == null
            ? null
            : new PairingCookie(settings.token(), () -> System.currentTimeMillis() / 1000);
  }

  public void addTo(Routes routes) {
    routes.get(PAGE, this::show).post(PAGE, this::pair).post("/api/pairing-codes", this::issue);
  }

  /**
   * A new code; empty where no token guards anything.
   *
   * @param port that the service is found at
   */
  public Optional<PairingCode> newCode(int port) {
    if (cookies == null) {
      return Optional.empty();
    }
    PairingCodes.Code code = codes.issue();
    List<URI> pages =
        settings.foundAt().stream().map(host -> page(host, port, code.code())).toList();
    return Optional.of(new PairingCode(code.code(), Instant.ofEpochMilli(code.untilMs()), pages));
  }

  private URI page(String host, int port, String code) {
    return URI.create(settings.scheme() + "://" + host + ":" + port + PAGE + "?code=" + code);
  }

  boolean isPaired(Context ctx) {
    String value = ctx.cookie(cookieName(ctx));
    return value != null && cookies.isGood(value);
  }

  private void issue(Context ctx) {
    PairingCode code =
        newCode(ctx.req().getLocalPort())
            .orElseThrow(
                () ->
                    new ProblemException(
                        Problem.Kind.NOT_FOUND,
                        "This service was started without a token, so everybody who reaches it is"
                            + " let in and nobody needs a code."));
    ctx.status(201);
    JsonResponses.json(ctx, code);
  }

  /** The form, filled in with the code of a scanned address; only the button uses it up. */
  private void show(Context ctx) {
    answer(ctx, Optional.ofNullable(ctx.queryParam("code")), "");
  }

  private void pair(Context ctx) throws IOException {
    String code = code(ctx);
    PairingCodes.Traded traded =
        cookies == null
            ? PairingCodes.Traded.GOOD
            : codes.trade(RequestLimiter.client(ctx.ip()), code);
    switch (traded) {
      case GOOD -> letIn(ctx);
      case WRONG ->
          refuse(
              ctx,
              Problem.Kind.CODE_REFUSED,
              "This code is wrong, was used already or is too old. Each lets in one phone; ask for"
                  + " another one at the computer.");
      case TOO_OFTEN -> {
        ctx.header("Retry-After", RETRY_S);
        refuse(
            ctx,
            Problem.Kind.TOO_MANY_REQUESTS,
            "Too many wrong codes were tried. Wait a minute, then try once more.");
      }
    }
  }

  private void letIn(Context ctx) {
    if (cookies != null) {
      ctx.res().addHeader("Set-Cookie", cookie(ctx));
    }
    ctx.status(303).header("Location", "/").header("Cache-Control", "no-store");
  }

  private String cookie(Context ctx) {
    return cookieName(ctx)
        + "="
        + cookies.issue()
        + "; Path=/; Max-Age="
        + PairingCookie.LIFE.toSeconds()
        + "; HttpOnly; SameSite=Strict"
        + (settings.keys() == null ? "" : "; Secure");
  }

  /** Browsers keep cookies by host and not by port: two services of one computer need two names. */
  private String cookieName(Context ctx) {
    return (settings.keys() == null ? "" : "__Host-") + "soakbench-" + ctx.req().getLocalPort();
  }

  private void refuse(Context ctx, Problem.Kind kind, String detail) {
    String accept = ctx.header("Accept");
    if (accept == null || !accept.contains("text/html")) {
      throw new ProblemException(kind, detail);
    }
    ctx.status(kind.status);
    answer(ctx, Optional.empty(), detail);
  }

  /** Only what looks like a code comes back from the address into the page. */
  private void answer(Context ctx, Optional<String> code, String problem) {
    String field =
        code.filter(c -> c.matches("[0-9A-Za-z-]{1,16}"))
            .map(c -> "value=\"" + c + "\"")
            .orElse(NO_CODE);
    String notice =
        problem.isEmpty() ? "" : "<p class=\"notice\" role=\"alert\">" + problem + "</p>";
    ctx.header("Cache-Control", "no-store").contentType("text/html; charset=utf-8");
    ctx.result(page.replace(NO_CODE, field).replace(NO_PROBLEM, notice));
  }

  private static String code(Context ctx) throws IOException {
    byte[] form = ctx.bodyInputStream().readNBytes(MOST_FORM_BYTES + 1);
    if (form.length > MOST_FORM_BYTES) {
      throw new ProblemException(
          Problem.Kind.TOO_LARGE, "A pairing form holds a code and at most 1000 bytes.");
    }
    for (String field : new String(form, StandardCharsets.UTF_8).split("&")) {
      if (field.startsWith("code=")) {
        return decoded(field.substring("code=".length()));
      }
    }
    return "";
  }

  private static String decoded(String value) {
    try {
      return URLDecoder.decode(value, StandardCharsets.UTF_8);
    } catch (IllegalArgumentException e) {
      return "";
    }
  }

  private static String page() {
    try (InputStream in = AccessPairing.class.getResourceAsStream(RESOURCE)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new IllegalStateException("cannot read " + RESOURCE, e);
    }
  }
}
