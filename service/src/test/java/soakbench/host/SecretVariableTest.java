package soakbench.host;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SecretVariableTest {
  private static final String NAME = "A_SECRET";

  @TempDir private Path folder;

  private Path file(String text) throws IOException {
    return Files.writeString(folder.resolve("secret"), text);
  }

  private static String of(String... nameAndValue) throws IOException {
    Map<String, String> environment =
        nameAndValue.length == 2
            ? Map.of(nameAndValue[0], nameAndValue[1])
            : Map.of(nameAndValue[0], nameAndValue[1], nameAndValue[2], nameAndValue[3]);
    return SecretVariable.read(NAME, environment);
  }

  @Test
  void itComesFromTheVariableOrFromTheFileThatAnotherNames() throws IOException {
    assertThat(of(NAME, " sesame ")).isEqualTo("sesame");
    assertThat(of(NAME + "_FILE", file("sesame\n").toString())).isEqualTo("sesame");
    assertThat(of("OTHER", "sesame")).isNull();
    assertThat(of(NAME, "", NAME + "_FILE", file("sesame").toString())).isEqualTo("sesame");
  }

  @Test
  void bothAreRefusedSinceNobodyKnowsWhichIsMeant() {
    assertThatThrownBy(() -> of(NAME, "sesame", NAME + "_FILE", file("other").toString()))
        .hasMessage("A_SECRET and A_SECRET_FILE are both set; set one of them");
  }

  @Test
  void aFileThatCannotBeOneIsSaidByItsNameAndNeverQuoted() throws IOException {
    String missing = folder.resolve("missing").toString();
    refused(
        missing, "A_SECRET_FILE names " + missing + ", which is no file that this user can see");
    refused(folder.toString(), "which is no file");
    refused(file(" \n").toString(), "which is empty");
    refused("a\0b", "which is no name of a file");
    assertThatThrownBy(() -> of(NAME + "_FILE", file("sesame".repeat(1000)).toString()))
        .hasMessageContaining("too large to be a secret")
        .hasMessageNotContaining("sesame");
  }

  private static void refused(String file, String words) {
    assertThatThrownBy(() -> of(NAME + "_FILE", file))
        .isInstanceOf(IOException.class)
        .hasMessageContaining(words);
  }
}
