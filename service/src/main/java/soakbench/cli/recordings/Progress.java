package soakbench.cli.recordings;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.concurrent.TimeUnit;

/**
 * One line on a terminal that says how far long work is, drawn over itself; nothing where standard
 * error is no terminal. Not thread-safe.
 */
public final class Progress implements AutoCloseable {
  private static final long EVERY_NS = TimeUnit.MILLISECONDS.toNanos(200);
  private static final int WIDTH = 76;
  private static final int BAR = 20;
  private static final String ERASE = "\r" + " ".repeat(WIDTH) + "\r";

  private final PrintStream out;
  private final int files;
  private int done;
  private String name = "";
  private long drawnNs = Long.MIN_VALUE / 2;
  private boolean drawn;

  private Progress(PrintStream out, int files) {
    this.out = out;
    this.files = files;
  }

  /** Of work on so many files, on standard error. */
  public static Progress of(int files) {
    return new Progress(isTerminal() ? System.err : null, files);
  }

  /** The same on this one, or none, for tests. */
  static Progress on(PrintStream out, int files) {
    return new Progress(out, files);
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

  /** Begins a file; returns its bytes, whose reading moves the line. */
  public InputStream read(Path file) throws IOException {
    name = file.getFileName().toString();
    long size = Math.max(1, Files.size(file));
    InputStream in = Files.newInputStream(file);
    draw(0);
    return new java.io.FilterInputStream(in) {
      private long total;

      @Override
      public int read(byte[] bytes, int offset, int length) throws IOException {
        int count = super.read(bytes, offset, length);
        total += Math.max(0, count);
        draw(total / (double) size);
        return count;
      }
    };
  }

  /** This file is written. */
  public void ended(Path file) {
    name = file.getFileName().toString();
    ended();
  }

  /** A file is through. */
  public void ended() {
    done++;
    draw(0);
  }

  private void draw(double share) {
    long nowNs = System.nanoTime();
    if (out == null || nowNs - drawnNs < EVERY_NS) {
      return;
    }
    drawnNs = nowNs;
    drawn = true;
    double all = Math.min(1, (done + share) / files);
    int full = (int) Math.floor(all * BAR);
    String bar = "#".repeat(full) + ".".repeat(BAR - full);
    String text = "%s %3.0f %%  %d of %d  %s".formatted(bar, 100 * all, done, files, name);
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
