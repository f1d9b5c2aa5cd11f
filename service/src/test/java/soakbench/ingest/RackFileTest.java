package soakbench.ingest;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class RackFileTest {
  @TempDir Path folder;

  private Path write(String yaml) throws IOException {
    return Files.writeString(folder.resolve("rack.yaml"), yaml);
  }

  private List<String> problems(String yaml) throws IOException {
    Path file = write(yaml);
    RackFileException e = catchThrowableOfType(RackFileException.class, () -> RackFile.read(file));
    assertThat(e).as("accepted: " + yaml).isNotNull();
    return e.problems().stream().map(p -> p.replace(file.toString(), "FILE")).toList();
  }

  private static RackFile.Slot slot(
      String name, String port, int baud, LineSettings lines, boolean reset) {
    return new RackFile.Slot(
        name, SlotBinding.port(port), new PortSettings(baud, reset, AskSettings.NONE), lines);
  }

  @Test
  void slotsAreReadInTheirOrder() throws IOException {
    RackFile rack =
        RackFile.read(
            write(
                """
                rack: A
                slots:
                  A2: {port: /dev/ttyUSB1}
                  A1: {port: /dev/ttyUSB0, baud: 9600, tracker: T-0412, reset: true}
                  3:
                    port: /dev/ttyUSB2
                    columns: t_ms,temp_c
                """));
    assertThat(rack.rack()).isEqualTo("A");
    assertThat(rack.slots())
        .containsExactly(
            new RackFile.Slot("A2", "/dev/ttyUSB1"),
            slot("A1", "/dev/ttyUSB0", 9600, new LineSettings("T-0412", null, null), true),
            slot("3", "/dev/ttyUSB2", 0, new LineSettings(null, "t_ms,temp_c", null), false));
  }

  @Test
  void allProblemsAreToldAtOnceWithTheirSlot() throws IOException {
    assertThat(
            problems(
                """
                rak: A
                colour: red
                slots:
                  A1: {prot: /dev/ttyUSB0, baud: fast}
                  A2: {port: /dev/ttyUSB1, baud: 12, tracker: "T 1"}
                  A3: {port: /dev/ttyUSB1, tracker: T-1, columns: none, reset: maybe}
                  A4: {port: /dev/ttyUSB2, tracker: T-1, baud: 9600.5}
                  A5: /dev/ttyUSB3
                """))
        .containsExactly(
            "FILE: unknown key \"rak\"; did you mean \"rack\"?",
            "FILE: unknown key \"colour\"; known are rack, slots",
            "FILE, slot A1: unknown key \"prot\"; did you mean \"port\"?",
            "FILE, slot A1: nothing says which port: set port, usb or serial_number as the command"
                + " \"ports\" shows them, or tracker alone where it says its own id",
            "FILE, slot A1: baud fast is neither auto nor a whole number from 300 to 4000000,"
                + " usually 115200",
            "FILE, slot A2: baud 12 is neither auto nor a whole number from 300 to 4000000, usually 115200",
            "FILE, slot A2: tracker \"T 1\" is no id: 1 to 64 letters, digits or any of . _ : -",
            "FILE, slot A3: port /dev/ttyUSB1 is set for slot A2 already",
            "FILE, slot A3: reset maybe must be true or false",
            "FILE, slot A3: columns must be text like \"id,t_ms,temp_c,gx_dps,gy_dps,gz_dps\"",
            "FILE, slot A4: baud 9600.5 is neither auto nor a whole number from 300 to 4000000, usually 115200",
            "FILE, slot A4: tracker T-1 is set for slot A3 already",
            "FILE, slot A5: must be like \"A5: {port: /dev/ttyUSB0}\"");
  }

  @Test
  void whatIsNoRackFileIsSaidSo() throws IOException {
    assertThat(problems("- a\n- b\n")).hasSize(1);
    assertThat(problems("")).hasSize(1);
    assertThat(problems("rack: A\n"))
        .containsExactly("FILE: slots must be a list like \"A1: {port: /dev/ttyUSB0}\"");
    assertThat(problems("rack: A\nslots: {A1: {port: x\n").get(0)).startsWith("FILE, line ");
    assertThat(problems("slots:\n  A1: {port: /dev/a}\n  A1: {port: /dev/b}\n").get(0))
        .contains("line 3", "A1");
  }

  @Test
  void aMissingFileIsNamed() {
    assertThatThrownBy(() -> RackFile.read(folder.resolve("none.yaml")))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("none.yaml does not exist");
  }
}
