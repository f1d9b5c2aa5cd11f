package soakbench.store.server;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import soakbench.live.StoreException;

class ServerAddressTest {
  @Test
  void userAndPasswordOfTheAddressGoFirst() {
    ServerAddress address =
        ServerAddress.of(
            DatabaseSettings.url("jdbc:postgresql://db:5433/soaks?user=ann&password=x", "b", "y"));
    assertThat(address.user()).isEqualTo("ann");
    assertThat(address.password()).isEqualTo("x");
    assertThat(address.server()).isEqualTo("db:5433");
    assertThat(address.database()).isEqualTo("soaks");
    assertThat(address).hasToString("database soaks at db:5433");
  }

  @Test
  void whatTheAddressLacksIsTakenFromBesideIt() {
    ServerAddress address =
        ServerAddress.of(DatabaseSettings.url("jdbc:postgresql://db/soaks", "bob", "y"));
    assertThat(address.userName()).isEqualTo("bob");
    assertThat(address.password()).isEqualTo("y");
    assertThat(address.server()).isEqualTo("db:5432");
  }

  @Test
  void aPasswordMayLieInAFileThatTheEnvironmentNames(@TempDir Path folder) throws IOException {
    Path file = Files.writeString(folder.resolve("password"), "y\n");
    String url = "jdbc:postgresql://db/soaks";
    Map<String, String> named =
        Map.of("SOAKBENCH_DB_USER", "bob", "SOAKBENCH_DB_PASSWORD_FILE", file.toString());
    assertThat(DatabaseSettings.url(url, named))
        .isEqualTo(new DatabaseSettings(null, url, "bob", "y", ChunkSettings.USUAL));
    Map<String, String> missing = Map.of("SOAKBENCH_DB_PASSWORD_FILE", file + "x");
    assertThatThrownBy(() -> DatabaseSettings.url(url, missing))
        .isInstanceOf(StoreException.class)
        .hasMessageContaining("SOAKBENCH_DB_PASSWORD_FILE names " + file + "x");
  }

  @Test
  void aPasswordIsNeverSaid() {
    String url = "jdbc:postgresql://ann:secret@db/soaks?PassWord=secret&user=ann";
    assertThat(DatabaseSettings.url(url, null, null).toString()).doesNotContain("secret");
  }
}
