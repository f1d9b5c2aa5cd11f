package soakbench.store.server;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

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
  void aPasswordIsNeverSaid() {
    String url = "jdbc:postgresql://ann:secret@db/soaks?PassWord=secret&user=ann";
    assertThat(DatabaseSettings.url(url, null, null).toString()).doesNotContain("secret");
  }
}
