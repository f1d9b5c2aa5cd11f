package soakbench.demo;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Supplier;

/** Makes the transports of the demo's lines, one for each tracker. */
public abstract class DemoTransports implements AutoCloseable {
  private DemoTransports() {}

  /** Why pseudo-terminals can't be used here, found out by trying; empty where they can. */
  public static Optional<String> terminalObstacle() {
    return TerminalTransport.obstacle();
  }

  /**
   * A serial port for each slot, which is a pseudo-terminal; {@link #port} is its path.
   *
   * @throws IOException if there is no folder for temporary files
   */
  public static DemoTransports terminals() throws IOException {
    Path folder = Files.createTempDirectory("soakbench-demo-");
    return new DemoTransports() {
      @Override
      Transport transport(String slot) {
        return new TerminalTransport(folder.resolve(slot));
      }

      @Override
      Optional<Path> port(String slot) {
        return Optional.of(folder.resolve(slot));
      }

      @Override
      public void close() throws IOException {
        Files.deleteIfExists(folder);
      }
    };
  }

  /**
   * A connection for each tracker.
   *
   * @param listener where lines are listened for now; empty where nobody listens yet
   */
  public static DemoTransports tcp(Supplier<Optional<InetSocketAddress>> listener) {
    return new DemoTransports() {
      @Override
      Transport transport(String slot) {
        return new TcpTransport(listener);
      }

      @Override
      Optional<Path> port(String slot) {
        return Optional.empty();
      }

      @Override
      public void close() {
        // Each transport closes its own connection.
      }
    };
  }

  abstract Transport transport(String slot);

  /** The serial port of a slot; empty where it has none. */
  abstract Optional<Path> port(String slot);

  /** To be called once all transports are closed. */
  @Override
  public abstract void close() throws IOException;
}
