package soakbench.serial;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFileAttributes;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.demo.PseudoTerminal;

class PortProblemTest {
  @TempDir Path folder;

  @Test
  void withoutPermissionTheGroupToJoinIsNamed() throws Exception {
    try (PseudoTerminal device = new PseudoTerminal()) {
      Path path = Path.of(device.path());
      String owner = Files.readAttributes(path, PosixFileAttributes.class).group().getName();
      String group = owner.equals("root") ? "dialout" : owner;
      assertThat(PortProblem.opening(path, PortProblem.EACCES))
          .isEqualTo(
              "no permission to use port %s: join the group %s (sudo usermod -aG %s \"$USER\"), "
                      .formatted(path, group, group)
                  + "then log in again");
    }
  }

  @Test
  void aUsablePortHasNoObstacle() throws Exception {
    try (PseudoTerminal device = new PseudoTerminal()) {
      assertThat(SerialPorts.obstacle(device.path())).isEmpty();
      assertThat(PortProblem.opening(Path.of(device.path()), 5)).contains("error number 5");
    }
  }

  @Test
  void whatIsSeenWithoutOpeningGoesBeforeTheErrorNumber() {
    assertThat(PortProblem.opening(folder.resolve("none"), PortProblem.EACCES))
        .contains("does not exist");
    assertThat(SerialPorts.obstacle(folder.toString()))
        .hasValueSatisfying(reason -> assertThat(reason).contains("is not a serial port"));
  }

  @Test
  void listingPortsNeverFails() {
    assertThat(SerialPorts.list()).allSatisfy(port -> assertThat(port.path()).startsWith("/dev/"));
  }
}
