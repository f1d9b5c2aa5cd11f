package soakbench.ingest.rackfile;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.catchThrowableOfType;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** What a rack file says of the network. */
class ListenKeysTest {
  @TempDir private Path folder;

  private Path write(String yaml) throws IOException {
    return Files.writeString(folder.resolve("rack.yaml"), yaml);
  }

  @Test
  void aRackMayTakeAllItsLinesFromTheNetwork() throws IOException {
    RackFile rack =
        RackFileParser.read(
            write(
                """
                rack: B
                listen:
                  udp: 127.0.0.1:9750
                  tcp: "[::1]:9751"
                  columns: t_ms,temp_c
                  ask: {after_open: [go]}
                """));
    assertThat(rack.slots()).isEmpty();
    assertThat(rack.listen().udp()).isEqualTo(new ListenAddress("127.0.0.1", 9750));
    assertThat(rack.listen().tcp()).isEqualTo(new ListenAddress("::1", 9751));
    assertThat(rack.listen().lines().columns()).isEqualTo("t_ms,temp_c");
    assertThat(rack.listen().ask().afterOpen()).containsExactly("go");
  }

  @Test
  void withoutItNothingListens() throws IOException {
    RackFile rack = RackFileParser.read(write("slots: {A1: {port: /dev/a}}\n"));
    assertThat(rack.listen().isNothing()).isTrue();
  }

  @Test
  void everythingWrongIsToldAtOnce() throws IOException {
    Path file =
        write(
            """
            listen: {udp: 9750, tpc: x, ask: {after_open: [go]}, columns: none}
            slots:
              A1: {address: bench.local}
              A2: {address: 10.0.0.2, port: /dev/a}
            """);
    assertThat(
            catchThrowableOfType(RackFileException.class, () -> RackFileParser.read(file))
                .problems())
        .extracting(p -> p.replace(file.toString(), "FILE"))
        .containsExactly(
            "FILE, listen: unknown key \"tpc\"; did you mean \"tcp\"?",
            "FILE, listen: udp \"9750\" is no address to listen at; one looks like 127.0.0.1:9750"
                + " or wlan0:9750",
            "FILE, listen: columns must be text like \"id,t_ms,temp_c,gx_dps,gy_dps,gz_dps\"",
            "FILE, listen: ask needs tcp: over UDP nothing is ever sent",
            "FILE, slot A1: address bench.local is no address like 192.168.4.23",
            "FILE, slot A2: address and a port exclude each other; leave one out");
  }

  @Test
  void anAddressNeedsASocketThatListens() throws IOException {
    Path file = write("slots: {A1: {address: 10.0.0.2}}\n");
    assertThat(catchThrowableOfType(RackFileException.class, () -> RackFileParser.read(file)))
        .hasMessageContaining("an address needs \"listen: {udp: HOST:PORT}\" beside slots");
  }

  @Test
  void aHostMayBeAnInterfaceOrAllOfThem() throws IOException {
    assertThat(ListenAddress.of("lo:9750").resolved().getAddress().isLoopbackAddress()).isTrue();
    assertThat(ListenAddress.of("*:0").resolved().getAddress().isAnyLocalAddress()).isTrue();
    assertThatThrownBy(() -> ListenAddress.of("no-such-interface.invalid:1").resolved())
        .isInstanceOf(IOException.class)
        .hasMessageContaining("no address and no network interface \"no-such-interface.invalid\"");
  }
}
