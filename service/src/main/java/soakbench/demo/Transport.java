package soakbench.demo;

import java.io.IOException;

/** The transport of one tracker's lines: a serial port, or a connection. */
interface Transport extends AutoCloseable {
  /** Connects the tracker, where it is not connected yet; where nobody answers, it stays apart. */
  void plugIn() throws IOException;

  /** Takes the tracker off, as if its cable was pulled. */
  void unplug() throws IOException;

  /**
   * Sends bytes. Never waits.
   *
   * @return how many bytes, counted from the first, were taken; -1 where the other end went away,
   *     so that the line that was begun is lost
   */
  int write(byte[] bytes);

  @Override
  default void close() throws IOException {
    unplug();
  }
}
