package soakbench.ingest.rackfile;

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
    RackFileException e =
        catchThrowableOfType(RackFileException.class, () -> RackFileParser.read(file));
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
        RackFileParser.read(
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
  void howFarAheadALinesOwnTimeIsBelievedIsSetInSeconds() throws IOException {
    String slots = "slots: {A1: {port: /dev/ttyUSB0}}\n";
    assertThat(RackFileParser.read(write(slots)).stamps()).isEqualTo(StampTolerance.USUAL);
    assertThat(RackFileParser.read(write("times: simulated\n" + slots)).stamps())
        .isEqualTo(StampTolerance.BELIEVED);
    assertThat(problems("times: real\n" + slots).get(0))
        .isEqualTo("FILE: times can only be set to simulated; leave it out for real trackers");
    assertThat(RackFileParser.read(write("clock_ahead_s: 5\n" + slots)).stamps().aheadUs())
        .isEqualTo(5_000_000);
    for (String wrong : List.of("0", "601", "2.5", "soon")) {
      assertThat(problems("clock_ahead_s: " + wrong + "\n" + slots))
          .singleElement()
          .asString()
          .startsWith("FILE: clock_ahead_s must be whole seconds, 1 to 600, not ");
    }
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
            "FILE: unknown key \"colour\"; known are rack, slots, listen, clock_ahead_s, times",
            "FILE, slot A1: unknown key \"prot\"; did you mean \"port\"?",
            "FILE, slot A1: nothing says which port: set port, usb or serial_number as the command"
                + " \"ports\" shows them, or tracker alone where it says its own id",
            "FILE, slot A1: baud fast is neither auto nor a whole number from 300 to 4000000,"
                + " usually 115200",
            "FILE, slot A2: baud 12 is neither auto nor a whole number from 300 to 4000000, usually"
                + " 115200",
            "FILE, slot A2: tracker \"T 1\" is no id: 1 to 64 letters, digits or any of . _ : -"
                + " (but not \".\" or \"..\")",
            "FILE, slot A3: port /dev/ttyUSB1 is set for slot A2 already",
            "FILE, slot A3: reset maybe must be true or false",
            "FILE, slot A3: columns must be text like \"id,t_ms,temp_c,gx_dps,gy_dps,gz_dps\"",
            "FILE, slot A4: baud 9600.5 is neither auto nor a whole number from 300 to 4000000,"
                + " usually 115200",
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
    assertThatThrownBy(() -> RackFileParser.read(folder.resolve("none.yaml")))
        .isInstanceOf(IOException.class)
        .hasMessageContaining("none.yaml does not exist");
  }

  @Test
  void aSlotIsBoundBySocketNumberPatternOrTracker() throws IOException {
    List<RackFile.Slot> slots =
        RackFileParser.read(
                write(
                    """
                    slots:
                      A1: {usb: 1-1.2, baud: auto}
                      A2: {serial_number: "0012", usb: 1-1.3}
                      A3: {port: /dev/ttyUSB*}
                      A4: {port: /dev/ttyUSB*}
                      A5: {tracker: T-5}
                    """))
            .slots();
    assertThat(slots)
        .extracting(RackFile.Slot::binding)
        .containsExactly(
            new SlotBinding("", "1-1.2", ""),
            new SlotBinding("", "1-1.3", "0012"),
            SlotBinding.port("/dev/ttyUSB*"),
            SlotBinding.port("/dev/ttyUSB*"),
            new SlotBinding("", "", ""));
    assertThat(slots)
        .extracting(RackFile.Slot::isSearched)
        .containsExactly(false, false, false, false, true);
    assertThat(slots)
        .extracting(slot -> slot.settings().baud())
        .containsOnly(PortSettings.AUTO_BAUD);
  }

  @Test
  void whatIsAskedIsReadWithItsControlCharacters() throws IOException {
    RackFile rack =
        RackFileParser.read(
            write(
                """
                slots:
                  A1:
                    port: /dev/ttyUSB0
                    ask: {after_open: [start, "\\x03"], after_boot: [rate 50], every_s: 30, newline: crlf}
                """));
    assertThat(rack.slots().get(0).settings().ask())
        .isEqualTo(
            new AskSettings(
                List.of("start", "\u0003"), List.of("rate 50"), 30, AskSettings.Newline.CRLF));
  }

  @Test
  void whatIsWrongWithBindingAndAskingIsToldAtOnce() throws IOException {
    String many = "[a, a, a, a, a, a, a, a, a, a, a, a, a, a, a, a, a]";
    assertThat(
            problems(
                """
                slots:
                  A1: {usb: 1-1.2, ask: {after_opn: [x], every_s: 5}}
                  A2: {usb: 1-1.2, ask: start}
                  A3: {port: /dev/*/port0, ask: {after_open: %s, newline: cl}}
                  A4: {port: "", ask: {after_open: [{}], every_s: 0}}
                  A5: {tracker: T-5}
                  A6: {tracker: T-6, baud: 9600}
                """
                    .formatted(many)))
        .containsExactly(
            "FILE, slot A1, ask: unknown key \"after_opn\"; did you mean \"after_open\"?",
            "FILE, slot A1, ask: every_s repeats the texts of after_open; name at least one there",
            "FILE, slot A2: socket 1-1.2 is set for slot A1 already",
            "FILE, slot A2: ask must be like \"ask: {after_open: [start]}\"",
            "FILE, slot A3: port /dev/*/port0 may have a * in its last part only",
            "FILE, slot A3, ask: after_open must be a list of at most 16 texts like [start]",
            "FILE, slot A3, ask: newline cl must be lf, crlf, cr or none",
            "FILE, slot A4: port is empty; run the command \"ports\" to see which there are",
            "FILE, slot A4, ask: after_open can't send a text like that; at most 256 bytes",
            "FILE, slot A4, ask: every_s 0 is not a whole number of seconds from 1 to 86400",
            "FILE, slot A6: slots bound by tracker alone listen to the same ports, so they need the"
                + " same baud, columns, pattern, reset and ask as slot A5");
  }
}
