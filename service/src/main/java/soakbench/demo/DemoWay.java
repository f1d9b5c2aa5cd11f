package soakbench.demo;

import java.io.IOException;
import java.net.InetSocketAddress;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;
import java.util.function.Supplier;

/** The way that the demo's lines take: each tracker has a carrier of its own. */
public abstract class DemoWay implements AutoCloseable {
  private DemoWay() {}

  /** Why pseudo-terminals can't be used here, found out by trying; empty where they can. */
  public static Optional<String> terminalObstacle() {
    return TerminalCarrier.obstacle();
  }

  /**
   * A serial port for each slot, which is a pseudo-terminal: {@link #port} tells where.
   *
   * @throws IOException if there is no folder for temporary files
   */
  public static DemoWay terminals() throws IOException {
    Path folder = Files.createTempDirectory("soakbench-demo-");
    return new DemoWay() {
      @Override
      Carrier carrier(String slot) {
        return new TerminalCarrier(folder.resolve(slot));
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
  public static DemoWay tcp(Supplier<Optional<InetSocketAddress>> listener) {
    return new DemoWay() {
      @Override
      Carrier carrier(String slot) {
        return new TcpCarrier(listener);
      }

      @Override
      Optional<Path> port(String slot) {
        return Optional.empty();
      }

      @Override
      public void close() {
        // Each carrier closes its own connection.
      }
    };
  }

  abstract Carrier carrier(String slot);

  /** The serial port of a slot; empty where it has none. */
  abstract Optional<Path> port(String slot);

  /** To be called once all carriers are closed. */
  @Override
  public abstract void close() throws IOException;
}
