package soakbench.cli;

import java.io.IOException;
import java.util.Arrays;
import java.util.concurrent.locks.LockSupport;
import soakbench.demo.PseudoTerminal;

/**
 * A pseudo-terminal that gets every byte through: it waits for the reader where a real tracker
 * would drop.
 */
final class LinePort implements AutoCloseable {
  private final PseudoTerminal terminal = new PseudoTerminal();

  LinePort() throws IOException {}

  String path() {
    return terminal.path();
  }

  void write(byte[] bytes) {
    int at = 0;
    while (at < bytes.length) {
      int written = terminal.write(Arrays.copyOfRange(bytes, at, bytes.length));
      at += written;
      if (written == 0) {
        LockSupport.parkNanos(1_000_000);
      }
    }
  }

  /** What a real tracker does: what nobody reads is gone. Returns how many bytes were taken. */
  int offer(byte[] bytes) {
    return terminal.write(bytes);
  }

  @Override
  public void close() throws IOException {
    terminal.close();
  }
}
