package soakbench.ingest.rackfile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.lines.PatternSpec;

/** A slot's own line form in the rack file. */
class PatternKeysTest {
  @TempDir private Path folder;

  private Path write(String yaml) throws IOException {
    return Files.writeString(folder.resolve("rack.yaml"), yaml);
  }

  @Test
  void aPatternIsReadWithItsScaleAndOffset() throws IOException {
    RackFile rack =
        RackFileParser.read(
            write(
                """
                rack: A
                slots:
                  A1:
                    port: /dev/ttyUSB0
                    tracker: T-1
                    pattern: '^T=(?<temp_c>-?[0-9]+)$'
                    scale: {temp_c: 0.0078125}
                    offset: {temp_c: 23}
                """));
    LineSettings lines = rack.slots().get(0).lines();
    assertThat(lines.tracker()).isEqualTo("T-1");
    PatternSpec own = lines.pattern();
    assertThat(own.pattern()).isEqualTo("^T=(?<temp_c>-?[0-9]+)$");
    assertThat(own.scale()).containsEntry("temp_c", 0.0078125);
    assertThat(own.offset()).containsEntry("temp_c", 23.0);
  }

  @Test
  void everythingWrongWithItIsToldWithTheSlot() throws IOException {
    Path file =
        write(
            """
            slots:
              A1: {port: /dev/a, pattern: "(?<tempc>.+)", scale: {temp_c: high}}
              A2: {port: /dev/b, scale: {temp_c: 2}}
              A3: {port: /dev/c, pattern: "(?<temp_c>.+)", offset: 3}
            """);
    List<String> problems =
        catchThrowableOfType(RackFileException.class, () -> RackFileParser.read(file)).problems();
    assertThat(problems)
        .extracting(p -> p.replace(file.toString(), "FILE"))
        .containsExactly(
            "FILE, slot A1: scale must be like \"scale: {temp_c: 0.01}\", not"
                + " {\"temp_c\":\"high\"}",
            "FILE, slot A1: group \"tempc\" is no column; did you mean \"temp_c\"?; no group is a"
                + " temperature or rates; name one like (?<temp_c>[-0-9.]+); scale \"temp_c\" is"
                + " for no group of the pattern",
            "FILE, slot A2: scale and offset need a pattern",
            "FILE, slot A3: offset must be like \"offset: {temp_c: 0.01}\", not 3");
  }
}
