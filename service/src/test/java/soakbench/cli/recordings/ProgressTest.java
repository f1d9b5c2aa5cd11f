package soakbench.cli.recordings;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.InputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class ProgressTest {
  @TempDir private Path folder;

  @Test
  void itSaysHowFarTheWorkIsAndLeavesNothingBehind() throws Exception {
    Path file = Files.writeString(folder.resolve("monday.jsonl"), "x".repeat(1000));
    ByteArrayOutputStream drawn = new ByteArrayOutputStream();
    try (Progress progress = Progress.on(new PrintStream(drawn, true), 4)) {
      progress.read(file).close();
      assertThat(drawn.toString(StandardCharsets.UTF_8)).contains("  0 %  0 of 4  monday.jsonl");
      progress.ended();
      progress.clear();
      try (InputStream in = progress.read(file)) {
        assertThat(drawn.toString(StandardCharsets.UTF_8)).contains(" 25 %  1 of 4");
        in.readAllBytes();
      }
    }
    String all = drawn.toString(StandardCharsets.UTF_8);
    assertThat(all).endsWith(" \r").doesNotContain("\n");
  }

  @Test
  void whereThereIsNoTerminalNothingIsDrawn() throws Exception {
    Path file = Files.writeString(folder.resolve("a.csv"), "x");
    try (Progress progress = Progress.on(null, 1)) {
      assertThat(progress.read(file).readAllBytes()).hasSize(1);
      progress.ended();
    }
  }
}
