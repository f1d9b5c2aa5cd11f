package soakbench.ingest.ports;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.concurrent.atomic.AtomicLong;
import org.junit.jupiter.api.Test;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.rackfile.PortSettings;
import soakbench.ingest.rackfile.RackFile;
import soakbench.ingest.rackfile.SlotBinding;
import soakbench.serial.PortInfo;

/**
 * Which slot gets which port. The ports are made up: only their names, sockets and numbers count.
 */
class PortDirectoryTest {
  private static final long SECOND_NS = 1_000_000_000L;

  private final List<PortInfo> plugged = new ArrayList<>();
  private final AtomicInteger asked = new AtomicInteger();
  private final AtomicLong nowNs = new AtomicLong(5 * SECOND_NS);

  private void plug(String path, String usb, String serialNumber) {
    plugged.add(new PortInfo(path, "", usb, serialNumber, 1, 2));
    nowNs.addAndGet(SECOND_NS);
  }

  private void unplug(String path) {
    plugged.removeIf(port -> port.path().equals(path));
    nowNs.addAndGet(SECOND_NS);
  }

  private PortDirectory directory(RackFile.Slot... slots) {
    return new PortDirectory(
        () -> {
          asked.incrementAndGet();
          return List.copyOf(plugged);
        },
        List.of(slots),
        nowNs::get);
  }

  private static RackFile.Slot slot(String name, String port, String usb, String serialNumber) {
    SlotBinding binding = new SlotBinding(port, usb, serialNumber);
    return new RackFile.Slot(name, binding, PortSettings.USUAL, LineSettings.NONE);
  }

  @Test
  void whatNamesADeviceGoesBeforeAPatternWhateverTheOrder() {
    RackFile.Slot any = slot("A1", "/no/usb*", "", "");
    RackFile.Slot socket = slot("A2", "", "1-1", "");
    RackFile.Slot path = slot("A3", "/no/usb2", "", "");
    PortDirectory directory = directory(any, socket, path);
    plug("/no/usb0", "1-1", "");
    plug("/no/usb1", "1-2", "");
    plug("/no/usb2", "1-3", "");
    assertThat(directory.path(any).path()).isEqualTo("/no/usb1");
    assertThat(directory.path(socket).path()).isEqualTo("/no/usb0");
    assertThat(directory.path(path).path()).isEqualTo("/no/usb2");
    assertThat(directory.free()).isEmpty();
  }

  @Test
  void aSlotKeepsItsPortWhileThatIsThere() {
    RackFile.Slot one = slot("A1", "/no/usb*", "", "");
    RackFile.Slot two = slot("A2", "/no/usb*", "", "");
    PortDirectory directory = directory(one, two);
    plug("/no/usb5", "", "");
    assertThat(directory.path(one).path()).isEqualTo("/no/usb5");
    plug("/no/usb1", "", "");
    assertThat(directory.path(two).path()).isEqualTo("/no/usb1");
    assertThat(directory.path(one).path()).isEqualTo("/no/usb5");
    unplug("/no/usb5");
    assertThat(directory.path(one).path()).isEmpty();
    assertThat(directory.path(two).path()).isEqualTo("/no/usb1");
  }

  @Test
  void allThatIsSetMustFit() {
    RackFile.Slot slot = slot("A1", "/no/acm*", "1-1", "S-1");
    PortDirectory directory = directory(slot);
    plug("/no/usb0", "1-1", "S-1");
    plug("/no/acm1", "1-1", "S-2");
    assertThat(directory.path(slot).reason())
        .isEqualTo(
            "nothing is plugged in that fits port /no/acm* socket 1-1 number S-1; plug the tracker"
                + " in, or run \"ports\"");
    plug("/no/acm2", "1-1", "S-1");
    assertThat(directory.path(slot).path()).isEqualTo("/no/acm2");
    assertThat(directory.free()).extracting(PortInfo::path).containsExactly("/no/usb0", "/no/acm1");
  }

  @Test
  void manySlotsLookAtTheSystemOnceASecondTogetherAndOneWithAPathNever() {
    RackFile.Slot path = slot("A1", "/no/usb0", "", "");
    RackFile.Slot socket = slot("A2", "", "1-1", "");
    PortDirectory directory = directory(path, socket);
    directory.path(path);
    assertThat(asked).hasValue(0);
    for (int i = 0; i < 50; i++) {
      directory.path(socket);
      directory.free();
    }
    assertThat(asked).hasValue(1);
    nowNs.addAndGet(SECOND_NS);
    directory.path(socket);
    assertThat(asked).hasValue(2);
  }
}
