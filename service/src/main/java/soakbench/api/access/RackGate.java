package soakbench.api.access;

import io.javalin.http.Context;
import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;

/**
 * Refuses changes to what was recorded of a tracker on a rack for which another service writes:
 * that one judges and derives it. The roster is everybody's, and reading too.
 */
public final class RackGate {
  /** Something of one tracker, or of one soak, whose id begins with the tracker's. */
  private static final Pattern OF_ONE =
      Pattern.compile("/api/(?:trackers|soaks)/([^/@]+)(?:@[^/]*)?/.+");

  private final OtherRacks others;

  public RackGate(OtherRacks others) {
    this.others = others;
  }

  /**
   * Lets the request pass.
   *
   * @throws ProblemException 409 where another service is to be asked
   */
  public void check(Context ctx) {
    if (CrossSite.reads(ctx)) {
      return;
    }
    Matcher one = OF_ONE.matcher(URLDecoder.decode(ctx.path(), StandardCharsets.UTF_8));
    String refusal = one.matches() ? others.refusal(one.group(1)) : null;
    if (refusal != null) {
      throw new ProblemException(Problem.Kind.OTHER_RACK, refusal);
    }
  }
}
