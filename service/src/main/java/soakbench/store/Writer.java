package soakbench.store;

import java.time.Instant;
import java.time.temporal.ChronoUnit;

/**
 * The program that writes to a database, as the database tells it.
 *
 * @param host the computer that it runs on
 * @param pid its process there; 0 where the database does not say
 * @param since from when on it has written
 */
public record Writer(String host, long pid, Instant since) {

  /** One line for people. */
  public String words() {
    String process = pid == 0 ? "a process" : "process " + pid;
    return process + " on " + host + ", since " + since.truncatedTo(ChronoUnit.SECONDS);
  }

  /** Whether it is this very program, by a connection whose end the server has yet to notice. */
  boolean isThisProgram() {
    return pid == ProcessHandle.current().pid() && host.equals(WriterName.host());
  }

  /** Whether it ran on this computer and has ended, so that the server only has yet to notice. */
  boolean died() {
    return pid != 0 && host.equals(WriterName.host()) && ProcessHandle.of(pid).isEmpty();
  }
}
