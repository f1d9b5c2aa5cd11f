package soakbench.cli.recordings;

import java.io.IOException;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;

/** How far work on several files is, on a {@link ProgressLine}. Not thread-safe. */
public final class Progress implements AutoCloseable {
  private final ProgressLine line;
  private final int files;
  private int done;
  private String name = "";

  private Progress(ProgressLine line, int files) {
    this.line = line;
    this.files = files;
  }

  /** Of work on so many files, on standard error. */
  public static Progress of(int files) {
    return new Progress(ProgressLine.onTerminal(), files);
  }

  /** The same on this one, or none, for tests. */
  static Progress on(PrintStream out, int files) {
    return new Progress(ProgressLine.on(out), files);
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
    line.show("%d of %d  %s".formatted(done, files, name), (done + share) / files);
  }

  /** Takes the line away, so that others can be printed; it comes again by itself. */
  public void clear() {
    line.clear();
  }

  @Override
  public void close() {
    line.close();
  }
}
