package soakbench.store.connection;

import java.net.InetAddress;
import java.net.UnknownHostException;
import java.time.Instant;
import java.time.temporal.ChronoUnit;

/**
 * The program that writes to a database, as the database lists it.
 *
 * @param host the computer that it runs on
 * @param pid its process there; 0 where the database does not say
 * @param since from when on it has written
 */
public record Writer(String host, long pid, Instant since) {
  /** The server cuts names off at 63 bytes. */
  private static final int LONGEST_HOST = 24;

  /** One line for people. */
  public String words() {
    String process = pid == 0 ? "a process" : "process " + pid;
    return process + " on " + host + ", since " + since.truncatedTo(ChronoUnit.SECONDS);
  }

  /** Whether it is this very program, by a connection whose end the server has yet to notice. */
  boolean isThisProgram() {
    return pid == ProcessHandle.current().pid() && host.equals(thisHost());
  }

  /** Whether it ran on this computer and has ended, so that the server only has yet to notice. */
  public boolean died() {
    return pid != 0 && host.equals(thisHost()) && ProcessHandle.of(pid).isEmpty();
  }

  /** This computer's name, as it is listed. */
  static String thisHost() {
    try {
      String name = InetAddress.getLocalHost().getHostName().replaceAll("[^A-Za-z0-9._-]", "?");
      return name.substring(0, Math.min(name.length(), LONGEST_HOST));
    } catch (UnknownHostException e) {
      return "unnamed";
    }
  }
}
