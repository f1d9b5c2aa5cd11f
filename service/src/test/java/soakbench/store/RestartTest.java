package soakbench.store;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.nio.file.attribute.UserPrincipal;
import java.time.Duration;
import org.junit.jupiter.api.Assumptions;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.SoakStore.Unit;
import soakbench.live.StoreException;
import soakbench.store.server.DatabaseSettings;
import soakbench.store.server.ReadyFolder;
import soakbench.store.server.ServerBinaries;

/** What a data folder goes through between two runs. */
@Timeout(90)
class RestartTest {
  @TempDir static Path once;
  @TempDir Path temp;
  private Path folder;

  @BeforeAll
  static void writeSomeSamples() {
    try (Database database =
            Database.open(DatabaseSettings.embedded(ReadyFolder.in(once.resolve("data"))));
        Unit unit = database.soakStore().begin()) {
      unit.writeSamples(Samples.samples("A-1", 0, 100));
      unit.commit();
    }
  }

  /** A copy of its own for each test: setting up a new one takes the longest of all. */
  @BeforeEach
  void copy() throws IOException {
    folder = FolderCopy.of(once.resolve("data"), temp.resolve("data"));
  }

  @Test
  void dataSurviveARestartAndThePortStays() throws IOException {
    String port = Files.readString(folder.resolve("port"));
    long before = System.nanoTime();
    assertDataAreThere();
    System.out.println("restart, read, stop: " + Duration.ofNanos(System.nanoTime() - before));
    assertThat(Files.readString(folder.resolve("port"))).isEqualTo(port);
  }

  @Test
  void aPortThatAStrangerTookIsReplaced() throws IOException {
    int port = Integer.parseInt(Files.readString(folder.resolve("port")));
    try (ServerSocket stranger = new ServerSocket(port, 1, InetAddress.getLoopbackAddress())) {
      assertDataAreThere();
      assertThat(Files.readString(folder.resolve("port")))
          .isNotEqualTo(Integer.toString(stranger.getLocalPort()));
    }
  }

  @Test
  void aStaleLockFileThatNamesALivingStrangerIsRemoved() throws IOException {
    long stranger = ProcessHandle.current().pid();
    Files.writeString(
        folder.resolve("postgres/postmaster.pid"),
        "%d%n%s%n1700000000%n5432%n%n127.0.0.1%n".formatted(stranger, folder.resolve("postgres")));
    assertDataAreThere();
    assertThat(ProcessHandle.of(stranger)).isPresent();
  }

  @Test
  void aLockFileOfRubbishIsRemoved() throws IOException {
    Files.writeString(folder.resolve("postgres/postmaster.pid"), "not a number");
    assertDataAreThere();
  }

  @Test
  void dataOfAnotherMajorVersionAreRefused() throws IOException {
    Files.writeString(folder.resolve("postgres/PG_VERSION"), "16\n");
    assertThatThrownBy(this::open)
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("holds data of PostgreSQL 16, this program runs 17");
    Files.writeString(folder.resolve("postgres/PG_VERSION"), "17\n");
    assertDataAreThere();
  }

  @Test
  void aServerThatCannotStartIsReportedSoonWithItsOwnReason() throws IOException {
    Path settings = folder.resolve("postgres/postgresql.conf");
    Files.writeString(settings, "shared_buffers = nonsense\n");
    long before = System.nanoTime();
    assertThatThrownBy(this::open)
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("does not start (configuration file")
        .hasMessageContaining("postgres.log")
        .message()
        .hasLineCount(1);
    assertThat(Duration.ofNanos(System.nanoTime() - before)).isLessThan(Duration.ofSeconds(20));
    Files.writeString(settings, "");
    assertDataAreThere();
  }

  @Test
  void dataOfAnotherUserAreRefusedWithTheUsersName() throws IOException {
    Assumptions.assumeTrue("root".equals(System.getProperty("user.name")), "only root gives away");
    UserPrincipal root = Files.getOwner(folder.resolve("postgres"));
    UserPrincipal other =
        folder.getFileSystem().getUserPrincipalLookupService().lookupPrincipalByName("nobody");
    Files.setOwner(folder.resolve("postgres"), other);
    assertThatThrownBy(this::open)
        .isInstanceOf(StoreException.class)
        .hasMessage(
            "the data folder %s belongs to user nobody, this is root; %s",
            folder.toRealPath(), "run Soakbench as nobody, or choose another with --data");
    Files.setOwner(folder.resolve("postgres"), root);
    assertDataAreThere();
  }

  @Test
  void aMissingPasswordFileIsReported() throws IOException {
    Files.delete(folder.resolve("password"));
    assertThatThrownBy(this::open)
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("password is missing");
  }

  @Test
  void aFirstStartThatWasCutOffIsDoneAgainAndNothingDeleted() throws IOException {
    Path fresh = temp.resolve("fresh");
    Files.createDirectories(fresh.resolve("postgres"));
    Files.writeString(fresh.resolve("postgres/PG_VERSION"), "17\n");
    Files.writeString(fresh.resolve("first-start-unfinished"), "");
    try (Database database = Database.open(DatabaseSettings.embedded(fresh))) {
      assertThat(database.health().ok()).isTrue();
    }
    try (var files = Files.list(fresh)) {
      assertThat(files).anyMatch(f -> f.getFileName().toString().startsWith("postgres.unf"));
    }
  }

  @Test
  void programsThatWereUnpackedByHalfAreUnpackedAgain() throws IOException {
    String shared = System.clearProperty(ServerBinaries.PROPERTY);
    try {
      assertDataAreThere();
      Path version;
      try (var versions = Files.list(folder.resolve("programs/unpacked"))) {
        version = versions.findFirst().orElseThrow();
      }
      assertThat(Files.getPosixFilePermissions(folder.resolve("programs")))
          .isEqualTo(PosixFilePermissions.fromString("rwx------"));
      Files.delete(version.resolve(".exists"));
      Files.writeString(version.resolve("bin/postgres"), "cut off");
      assertDataAreThere();
    } finally {
      if (shared != null) {
        System.setProperty(ServerBinaries.PROPERTY, shared);
      }
    }
  }

  @Test
  void aFolderThatIsAFileIsRefused() throws IOException {
    Path file = Files.createFile(temp.resolve("file"));
    assertThatThrownBy(() -> Database.open(DatabaseSettings.embedded(file)))
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("the data folder " + file + " can't be used")
        .hasMessageContaining("--data");
  }

  private Database open() {
    return Database.open(DatabaseSettings.embedded(folder));
  }

  private void assertDataAreThere() {
    try (Database database = open();
        Unit unit = database.soakStore().begin()) {
      assertThat(unit.samples("A-1", 0, Long.MAX_VALUE)).isEqualTo(Samples.samples("A-1", 0, 100));
    }
  }
}
