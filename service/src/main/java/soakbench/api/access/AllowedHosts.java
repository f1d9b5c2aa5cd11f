package soakbench.api.access;

import io.javalin.http.Context;
import java.util.HashSet;
import java.util.Locale;
import java.util.Set;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;

/**
 * The names that this service answers to. A page of another site can make its own name lead to this
 * computer, and would then count as ours to a browser; it can't make the browser ask for one of our
 * names. Ports are passed over: they do not tell a site's name from ours.
 */
final class AllowedHosts {
  private static final Set<String> THIS_COMPUTER = Set.of("localhost", "127.0.0.1", "[::1]");

  /**
   * Names for all addresses at once. Browsers take them for this computer, and nobody types them.
   */
  private static final Set<String> EVERYWHERE = Set.of("0.0.0.0", "::", "0");

  private final Set<String> names = new HashSet<>(THIS_COMPUTER);

  /**
   * @param bound the address that the service listens on
   * @param more names given by the operator
   */
  AllowedHosts(String bound, Set<String> more) {
    if (!EVERYWHERE.contains(bound)) {
      names.add(plain(bound));
    }
    more.forEach(name -> names.add(plain(name)));
  }

  /**
   * Makes sure that the client asked for a name of ours: one that is known, or the address at which
   * its connection arrived.
   *
   * @throws ProblemException 421 if not
   */
  void require(Context ctx) {
    String asked = plain(withoutPort(String.valueOf(ctx.host())));
    if (!names.contains(asked) && !asked.equals(plain(ctx.req().getLocalAddr()))) {
      throw new ProblemException(
          Problem.Kind.WRONG_HOST,
          "This service does not answer to the host name that was asked for. Use its address, or"
              + " start it with --name and that name.");
    }
  }

  private static String withoutPort(String host) {
    return host.replaceFirst(":[0-9]*$", "");
  }

  /** Lower case, no dot at the end, IPv6 in brackets and without a zone. */
  private static String plain(String host) {
    String name = host.strip().toLowerCase(Locale.ROOT).replaceFirst("\\.$", "");
    boolean bare = name.indexOf(':') >= 0 && !name.startsWith("[");
    return (bare ? "[" + name + "]" : name).replaceFirst("%[^\\]]*", "");
  }
}
