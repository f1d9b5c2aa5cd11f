package soakbench.cli.options;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import picocli.CommandLine;
import soakbench.api.ApiSettings;
import soakbench.api.access.AccessLimits;

/** What the options make of who may ask. */
class AccessOptionsTest {
  private static final String TOKEN = "0123456789abcdef01234567";

  @TempDir private Path folder;

  private static ApiSettings settings(String... args) throws IOException {
    AccessOptions options = new AccessOptions();
    new CommandLine(options).parseArgs(args);
    return options.settings(8094);
  }

  private String token(String text) throws IOException {
    return Files.writeString(folder.resolve("token"), text).toString();
  }

  @Test
  void byItselfItListensOnThisComputerAloneAndAsksNobody() throws IOException {
    ApiSettings settings = settings();
    assertThat(settings.host()).isEqualTo("127.0.0.1");
    assertThat(settings.access().token()).isNull();
    assertThat(settings.access().openReading()).isTrue();
    assertThat(settings.access().limits()).isEqualTo(AccessLimits.LOCAL);
    assertThat(settings("--bind", "::1").access().limits()).isEqualTo(AccessLimits.LOCAL);
  }

  @Test
  void listeningWiderWithoutATokenIsRefusedInOneSentence() {
    for (String[] wide :
        new String[][] {
          {"--lan"}, {"--bind", "0.0.0.0"}, {"--bind", "::"}, {"--bind", "192.0.2.1"}
        }) {
      assertThatThrownBy(() -> settings(wide))
          .isInstanceOf(CommandException.class)
          .hasMessageContaining("needs a token for writing")
          .hasMessageContaining("--token-file");
    }
  }

  @Test
  void withATokenItListensWiderAndEverythingNeedsItUnlessReadingIsLeftOpen() throws IOException {
    ApiSettings closed =
        settings("--bind", "0.0.0.0", "--token-file", token(TOKEN + "\n"), "--name", "bench.local");
    assertThat(closed.host()).isEqualTo("0.0.0.0");
    assertThat(closed.access().token()).isNotNull();
    assertThat(closed.access().openReading()).isFalse();
    assertThat(closed.access().limits()).isEqualTo(AccessLimits.WIDE);
    assertThat(closed.access().names()).containsExactly("bench.local");
    assertThat(
            settings("--bind", "192.0.2.1", "--open-reading", "--token-file", token(TOKEN))
                .access()
                .openReading())
        .isTrue();
  }

  @Test
  void optionsThatDoNotGoTogetherAreNamed() throws IOException {
    String token = token(TOKEN);
    assertThatThrownBy(() -> settings("--lan", "--bind", "::", "--token-file", token))
        .isInstanceOf(CommandException.class)
        .hasMessageContaining("give one of them");
    assertThatThrownBy(() -> settings("--name", "http://bench"))
        .isInstanceOf(CommandException.class)
        .hasMessageContaining("is no host name");
    assertThatThrownBy(() -> settings("--tls-key", "x"))
        .isInstanceOf(CommandException.class)
        .hasMessageContaining("--tls-cert and --tls-key go together");
  }

  @Test
  void aTokenThatIsNoneIsRefusedWithoutShowingIt() throws IOException {
    Path file = folder.resolve("token");
    for (String bad : new String[] {"", "hunter2", "two words of twenty characters"}) {
      Files.writeString(file, bad);
      assertThatThrownBy(() -> TokenSource.read(file, Map.of()))
          .isInstanceOf(CommandException.class)
          .hasMessageContaining(file.toString())
          .message()
          .doesNotContain("hunter2")
          .doesNotContain("two words");
    }
    assertThatThrownBy(() -> TokenSource.read(folder, Map.of()))
        .hasMessageContaining("is a folder");
    assertThatThrownBy(() -> TokenSource.read(null, Map.of("SOAKBENCH_TOKEN", "short")))
        .isInstanceOf(CommandException.class)
        .hasMessageContaining("SOAKBENCH_TOKEN");
    assertThat(TokenSource.read(null, Map.of("SOAKBENCH_TOKEN", TOKEN))).isEqualTo(TOKEN);
    assertThat(TokenSource.read(null, Map.of("SOAKBENCH_TOKEN_FILE", token(TOKEN + "\n"))))
        .isEqualTo(TOKEN);
    assertThat(TokenSource.read(null, Map.of())).isNull();
  }
}
