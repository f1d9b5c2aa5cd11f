package soakbench.cli.options;

import java.io.IOException;
import java.net.InetAddress;
import java.net.UnknownHostException;
import java.nio.file.Path;
import java.security.KeyStore;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import picocli.CommandLine.Option;
import soakbench.api.ApiSettings;
import soakbench.api.access.AccessLimits;
import soakbench.api.access.AccessSettings;
import soakbench.api.access.AccessToken;

/** Who may ask: by itself this computer only. */
public final class AccessOptions {
  private static final String EVERYWHERE = "0.0.0.0";
  private static final String HERE = "127.0.0.1";

  @Option(
      names = "--bind",
      paramLabel = "ADDRESS",
      description = "address to listen on (default " + HERE + ": this computer only)")
  private String bind;

  @Option(
      names = "--lan",
      description = "listen to the whole local network, and print how to let a phone in")
  private boolean lan;

  @Option(
      names = "--token-file",
      paramLabel = "FILE",
      description =
          "the token that programs must send, else from the variable " + TokenSource.VARIABLE)
  private Path tokenFile;

  @Option(names = "--open-reading", description = "let everybody read without the token")
  private boolean openReading;

  @Option(
      names = "--name",
      paramLabel = "HOST",
      description = "a host name that the service goes by, such as bench.local; may be repeated")
  private List<String> names = new ArrayList<>();

  @Option(
      names = "--tls-cert",
      paramLabel = "FILE",
      description = "certificate for TLS (PEM); with --tls-key")
  private Path certificate;

  @Option(
      names = "--tls-key",
      paramLabel = "FILE",
      description = "its private key (PEM, PKCS #8, not encrypted)")
  private Path key;

  /**
   * The settings that these options ask for.
   *
   * @throws CommandException if they do not go together or are not safe
   */
  public ApiSettings settings(int port) throws IOException {
    if (lan && bind != null) {
      throw new CommandException(
          "--lan listens on every address and --bind on one; give one of them");
    }
    if ((certificate == null) != (key == null)) {
      throw new CommandException("--tls-cert and --tls-key go together; give both or none");
    }
    names.forEach(AccessOptions::requireName);
    String host = lan ? EVERYWHERE : bind == null ? HERE : bind;
    boolean wide = !isLoopback(host);
    String token = TokenSource.read(tokenFile, System.getenv());
    if (wide && token == null) {
      throw new CommandException(
          "listening on "
              + host
              + " lets other computers in, which needs a token for writing: make one with"
              + " (umask 077; openssl rand -hex 24 > token) and give --token-file token, or set "
              + TokenSource.VARIABLE);
    }
    KeyStore keys = certificate == null ? null : PemFiles.read(certificate, key);
    AccessSettings access =
        AccessSettings.OPEN
            .withToken(token == null ? null : new AccessToken(token))
            .withOpenReading(openReading || token == null)
            .withNames(Set.copyOf(names))
            .withFoundAt(foundAt())
            .withKeys(keys)
            .withLimits(wide ? AccessLimits.WIDE : AccessLimits.LOCAL);
    return new ApiSettings(host, port).withAccess(access);
  }

  /** Names and addresses under which phones may find the service, the surest first. */
  private List<String> foundAt() {
    List<String> hosts = new ArrayList<>(addresses());
    // A certificate is for a name, and few phones find a plain name on a local network.
    hosts.addAll(certificate == null ? hosts.size() : 0, names);
    if (hosts.isEmpty()) {
      throw new CommandException(
          "this computer has no address on a network: connect it to one, or give --name HOST");
    }
    return hosts;
  }

  private List<String> addresses() {
    if (lan || bind != null && isEverywhere(bind)) {
      return LanAddresses.list();
    }
    String host = bind == null ? HERE : bind;
    return List.of(host.contains(":") ? "[" + host + "]" : host);
  }

  private static boolean isLoopback(String host) {
    try {
      return InetAddress.getByName(host).isLoopbackAddress();
    } catch (UnknownHostException e) {
      // Where it can't be listened on, the server reports it.
      return false;
    }
  }

  private static boolean isEverywhere(String host) {
    try {
      return InetAddress.getByName(host).isAnyLocalAddress();
    } catch (UnknownHostException e) {
      return false;
    }
  }

  private static void requireName(String name) {
    if (!name.matches("[A-Za-z0-9-]+([.][A-Za-z0-9-]+)*")) {
      throw new CommandException("--name " + name + " is no host name; it is one like bench.local");
    }
  }
}
