package soakbench.cli.recordings;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;

/**
 * One line on a terminal that says how far long work is, drawn over itself; nothing where standard
 * error is no terminal. Not thread-safe.
 */
public final class ProgressLine implements AutoCloseable {
  private static final long EVERY_NS = TimeUnit.MILLISECONDS.toNanos(200);
  private static final int WIDTH = 76;
  private static final int BAR = 20;
  private static final String ERASE = "\r" + " ".repeat(WIDTH) + "\r";

  private final PrintStream out;
  private long drawnNs = Long.MIN_VALUE / 2;
  private boolean drawn;

  private ProgressLine(PrintStream out) {
    this.out = out;
  }

  /** On standard error. */
  public static ProgressLine onTerminal() {
    return new ProgressLine(isTerminal() ? System.err : null);
  }

  /** On this one, or none, for tests. */
  static ProgressLine on(PrintStream out) {
    return new ProgressLine(out);
  }

  private static boolean isTerminal() {
    Path error = Path.of("/proc/self/fd/2");
    try {
      String target = Files.exists(error) ? error.toRealPath().toString() : "";
      return target.isEmpty()
          ? System.console() != null
          : target.startsWith("/dev/pts/") || target.startsWith("/dev/tty");
    } catch (IOException e) {
      // A pipe has no real path.
      return false;
    }
  }

  /**
   * Draws it, a few times a second at most.
   *
   * @param words what is being done
   * @param share how much is done, 0 to 1
   */
  public void show(String words, double share) {
    long nowNs = System.nanoTime();
    if (out == null || nowNs - drawnNs < EVERY_NS) {
      return;
    }
    drawnNs = nowNs;
    drawn = true;
    double all = Math.min(1, share);
    int full = (int) Math.floor(all * BAR);
    String bar = "#".repeat(full) + ".".repeat(BAR - full);
    String text = "%s %3.0f %%  %s".formatted(bar, 100 * all, words);
    out.print(ERASE + (text.length() > WIDTH ? text.substring(0, WIDTH) : text));
    out.flush();
  }

  /** Takes the line away, so that others can be printed; it comes again by itself. */
  public void clear() {
    if (drawn) {
      out.print(ERASE);
      out.flush();
      drawn = false;
      drawnNs = Long.MIN_VALUE / 2;
    }
  }

  @Override
  public void close() {
    clear();
  }
}
