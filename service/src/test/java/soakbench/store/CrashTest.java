package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.BufferedReader;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.bench.Program;
import soakbench.live.SoakStore.Unit;
import soakbench.live.StoreException;
import soakbench.model.Sample;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ReadyFolder;

/** The program dies without a word; what it had committed is there at the next start. */
@Timeout(120)
class CrashTest {
  @TempDir static Path once;
  @TempDir Path temp;
  private Path folder;

  @BeforeAll
  static void setUp() {
    ReadyFolder.in(once.resolve("data"));
  }

  /** A copy of its own for each test: setting up a new one takes the longest of all. */
  @BeforeEach
  void copy() throws IOException {
    folder = FolderCopy.of(once.resolve("data"), temp.resolve("data"));
  }

  @Test
  void afterKillingTheProgramEveryCommittedUnitIsThereWholeAndOnce() throws Exception {
    int committed = killAfterUnits(5);
    assertThat(serverProcess()).as("the orphaned server").matches(ProcessHandle::isAlive);
    assertWholeUnits(committed);
  }

  @Test
  void afterAPowerCutTheServerRecovers() throws Exception {
    int committed = killAfterUnits(5);
    ProcessHandle server = serverProcess();
    List<ProcessHandle> all = new ArrayList<>(server.descendants().toList());
    all.add(server);
    all.forEach(ProcessHandle::destroyForcibly);
    for (ProcessHandle process : all) {
      process.onExit().get(10, TimeUnit.SECONDS);
    }
    assertThat(folder.resolve("postgres/postmaster.pid")).exists();
    assertWholeUnits(committed);
  }

  @Test
  void aSecondCopyIsRefusedWithTheNumberOfTheFirst() throws Exception {
    Process first = child(folder.toString(), "hold");
    try (BufferedReader output = first.inputReader()) {
      assertThat(output.readLine()).isEqualTo("holding");
      assertThatThrownBy(() -> Database.open(DatabaseSettings.embedded(folder)))
          .isInstanceOf(StoreException.class)
          .hasMessage(
              "the data folder %s is in use by another copy of Soakbench (process %d); %s",
              folder.toRealPath(), first.pid(), "stop it or choose another with --data");
      first.getOutputStream().close();
      assertThat(first.waitFor(30, TimeUnit.SECONDS)).isTrue();
      assertThat(first.exitValue()).isZero();
    } finally {
      first.destroyForcibly();
    }
    Database.open(DatabaseSettings.embedded(folder)).close();
  }

  @Test
  void rootWithoutUnshareIsToldWhatToDo() throws Exception {
    Assumptions.assumeTrue("root".equals(System.getProperty("user.name")), "not root");
    ProcessBuilder builder = builder(folder.toString(), "hold").redirectErrorStream(true);
    builder.environment().put("PATH", "/nonexistent");
    Process program = builder.start();
    try (BufferedReader output = program.inputReader()) {
      assertThat(output.lines())
          .anyMatch(line -> line.contains("run Soakbench as an ordinary user, or give a server"));
    }
    assertThat(program.waitFor()).isNotZero();
  }

  /** Returns how many samples the program said were committed. */
  private int killAfterUnits(int units) throws IOException, InterruptedException {
    Process program = child(folder.toString());
    int committed = 0;
    try (BufferedReader output = program.inputReader()) {
      while (committed < units * CrashingWriter.PER_UNIT) {
        committed = Integer.parseInt(output.readLine());
      }
      program.toHandle().destroyForcibly();
      for (String line = output.readLine(); line != null; line = output.readLine()) {
        committed = Integer.parseInt(line);
      }
    }
    program.waitFor();
    return committed;
  }

  /** One unit more than was said may be there: killed between the commit and the saying. */
  private void assertWholeUnits(int committed) {
    try (Database database = Database.open(DatabaseSettings.embedded(folder));
        Unit unit = database.soakStore().begin()) {
      List<Sample> found = unit.samples("A-1", 0, Long.MAX_VALUE);
      assertThat(found.size()).isIn(committed, committed + CrashingWriter.PER_UNIT);
      assertThat(found).isEqualTo(Samples.samples("A-1", 0, found.size()));
    }
  }

  private ProcessHandle serverProcess() throws IOException {
    String pid = Files.readAllLines(folder.resolve("postgres/postmaster.pid")).get(0).strip();
    return ProcessHandle.of(Long.parseLong(pid)).orElseThrow();
  }

  private static Process child(String... arguments) throws IOException {
    return builder(arguments).redirectError(ProcessBuilder.Redirect.INHERIT).start();
  }

  private static ProcessBuilder builder(String... arguments) {
    return new ProcessBuilder(
        Program.command(Program.soon(), CrashingWriter.class, List.of(arguments)));
  }
}
