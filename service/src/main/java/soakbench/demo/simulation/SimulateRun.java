package soakbench.demo.simulation;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Path;
import java.util.List;
import soakbench.demo.lines.LineBuffer;

/** Writes a simulated tracker's lines, and what is true of them. */
public final class SimulateRun {
  private static final int CHUNK = 1 << 16;

  private SimulateRun() {}

  /**
   * Writes a whole run as fast as it goes.
   *
   * @param lines takes the lines; flushed, not closed
   * @param truth the truth file to write, or null for none
   * @return what was simulated
   * @throws IOException if either can't be written
   */
  public static Recipe write(SimulateOptions options, OutputStream lines, Path truth)
      throws IOException {
    Recipe recipe = RecipeGenerator.recipe(options);
    if (truth != null) {
      TruthFile.write(List.of(Truth.of(recipe)), truth);
    }
    write(new SimulatedTracker(recipe), lines);
    return recipe;
  }

  static void write(SimulatedTracker tracker, OutputStream lines) throws IOException {
    LineBuffer buffer = new LineBuffer();
    while (tracker.nextUs() != Long.MAX_VALUE) {
      tracker.next(buffer);
      if (buffer.length() >= CHUNK) {
        lines.write(buffer.bytes(), 0, buffer.length());
        buffer.clear();
      }
    }
    lines.write(buffer.bytes(), 0, buffer.length());
    lines.flush();
  }
}
