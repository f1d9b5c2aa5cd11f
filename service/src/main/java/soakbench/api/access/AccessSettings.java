package soakbench.api.access;

import java.security.KeyStore;
import java.time.Duration;
import java.util.List;
import java.util.Set;

/**
 * Who may ask, and for what.
 *
 * @param token what writing needs, and reading too unless it is open; null where everything is open
 * @param openReading whether reading needs no token
 * @param names host names that the service answers to, beside those of this computer and the
 *     address it listens on
 * @param foundAt names or addresses, IPv6 in brackets, under which phones find the service
 * @param keys certificate and private key for TLS, under an empty password; null for plain HTTP
 * @param codeLife how long a pairing code can be used
 * @param limits how much one client may ask for
 */
public record AccessSettings(
    AccessToken token,
    boolean openReading,
    Set<String> names,
    List<String> foundAt,
    KeyStore keys,
    Duration codeLife,
    AccessLimits limits) {
  private static final Duration CODE_LIFE = Duration.ofMinutes(10);

  /** Everything is open: for a service that only this computer reaches. */
  public static final AccessSettings OPEN =
      new AccessSettings(
          null, true, Set.of(), List.of("127.0.0.1"), null, CODE_LIFE, AccessLimits.LOCAL);

  public AccessSettings {
    names = Set.copyOf(names);
    foundAt = List.copyOf(foundAt);
  }

  /** Of the service's addresses: http or https. */
  public String scheme() {
    return keys == null ? "http" : "https";
  }

  /** A token for everything. */
  public AccessSettings withToken(AccessToken needed) {
    return new AccessSettings(needed, false, names, foundAt, keys, codeLife, limits);
  }

  /** Reading without a token, or not. */
  public AccessSettings withOpenReading(boolean open) {
    return new AccessSettings(token, open, names, foundAt, keys, codeLife, limits);
  }

  /** With more names of its own. */
  public AccessSettings withNames(Set<String> more) {
    return new AccessSettings(token, openReading, more, foundAt, keys, codeLife, limits);
  }

  /** Found by phones under these names and addresses. */
  public AccessSettings withFoundAt(List<String> hosts) {
    return new AccessSettings(token, openReading, names, hosts, keys, codeLife, limits);
  }

  /** Over TLS. */
  public AccessSettings withKeys(KeyStore store) {
    return new AccessSettings(token, openReading, names, foundAt, store, codeLife, limits);
  }

  /** With pairing codes that can be used for this long. */
  public AccessSettings withCodeLife(Duration life) {
    return new AccessSettings(token, openReading, names, foundAt, keys, life, limits);
  }

  /** With other limits for each client. */
  public AccessSettings withLimits(AccessLimits each) {
    return new AccessSettings(token, openReading, names, foundAt, keys, codeLife, each);
  }
}
