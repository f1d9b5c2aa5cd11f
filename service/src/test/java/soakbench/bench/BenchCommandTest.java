package soakbench.bench;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;

class BenchCommandTest {
  @Test
  void theBenchOfLinesPrintsTheRatioOfEachForm() {
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    PrintStream before = System.out;
    System.setOut(new PrintStream(out, true, StandardCharsets.UTF_8));
    try {
      int exit = BenchCommand.commandLine().execute("lines", "--lines", "500", "--rounds", "2");
      assertThat(exit).isZero();
    } finally {
      System.setOut(before);
    }
    assertThat(out.toString(StandardCharsets.UTF_8).lines())
        .hasSize(4)
        .allMatch(line -> line.matches(".* lines/s   [0-9.]+ of the first"));
  }
}
