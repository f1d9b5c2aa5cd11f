package soakbench.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Optional;

/** A pseudo-terminal under a name that stays the same however often the cable is pulled. */
final class TerminalTransport implements Transport {
  private final Path link;
  private PseudoTerminal terminal;

  /**
   * @param link where the port is found
   */
  TerminalTransport(Path link) {
    this.link = link;
  }

  /** Why the demo can't use pseudo-terminals here, found out by trying; empty where it can. */
  static Optional<String> obstacle() {
    try {
      Path folder = Files.createTempDirectory("soakbench-trial-");
      Path link = folder.resolve("port");
      try (TerminalTransport trial = new TerminalTransport(link)) {
        trial.plugIn();
        // In a container the number may be given while the folder of the devices is not there.
        return Files.isReadable(link)
            ? Optional.empty()
            : Optional.of(trial.terminal.path() + " can't be opened");
      } finally {
        Files.deleteIfExists(folder);
      }
    } catch (IOException | UnsupportedOperationException e) {
      return Optional.of(String.valueOf(e.getMessage()));
    } catch (LinkageError e) {
      return Optional.of("the C library's calls for them could not be loaded");
    }
  }

  @Override
  public void plugIn() throws IOException {
    if (terminal == null) {
      terminal = new PseudoTerminal();
      Files.createSymbolicLink(link, Path.of(terminal.path()));
    }
  }

  @Override
  public void unplug() throws IOException {
    if (terminal != null) {
      Files.deleteIfExists(link);
      terminal.close();
      terminal = null;
    }
  }

  @Override
  public int write(byte[] bytes) {
    return terminal.write(bytes);
  }
}
