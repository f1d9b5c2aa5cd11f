package soakbench.store.server;

import java.io.IOException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.HexFormat;
import java.util.Random;
import soakbench.host.OwnerOnly;
import soakbench.live.StoreException;

/** Our own server's password and port, chosen once and kept in the data folder. */
final class ServerSecrets {
  private static final int PASSWORD_BYTES = 24;

  /** Below the ports that systems give to outgoing connections, so that ours stays free. */
  private static final int FIRST_PORT = 20_000;

  private static final int PORTS = 10_000;
  private static final int TRIES = 100;

  private ServerSecrets() {}

  /** Makes a new password and writes it for its owner's eyes only. */
  static void newPassword(Path file) throws IOException {
    byte[] random = new byte[PASSWORD_BYTES];
    new SecureRandom().nextBytes(random);
    Files.deleteIfExists(file);
    OwnerOnly.makeFile(file);
    Files.writeString(file, HexFormat.of().formatHex(random));
  }

  static String password(Path file) throws IOException {
    if (!Files.exists(file)) {
      throw new StoreException(
          "the file %s is missing, without it the database can't be opened; %s"
              .formatted(file, "put it back from a backup"),
          null,
          false);
    }
    return Files.readString(file).strip();
  }

  /** The port of last time, or another where a stranger has it. No server of ours may run. */
  static int port(Path file) throws IOException {
    int known = Files.exists(file) ? parse(Files.readString(file).strip()) : 0;
    if (known > 0 && isFree(known)) {
      return known;
    }
    Random random = new SecureRandom();
    for (int i = 0; i < TRIES; i++) {
      int port = FIRST_PORT + random.nextInt(PORTS);
      if (isFree(port)) {
        Files.writeString(file, Integer.toString(port));
        return port;
      }
    }
    throw new StoreException(
        "no free port from %d to %d for the database; stop some of the programs that have them"
            .formatted(FIRST_PORT, FIRST_PORT + PORTS - 1),
        null,
        true);
  }

  private static int parse(String text) {
    return text.matches("[1-9][0-9]{0,4}") ? Integer.parseInt(text) : 0;
  }

  private static boolean isFree(int port) {
    try (ServerSocket socket = new ServerSocket()) {
      socket.bind(new InetSocketAddress(InetAddress.getLoopbackAddress(), port));
      return true;
    } catch (IOException e) {
      // Taken: that is the answer.
      return false;
    }
  }
}
